import QtQuick
import QtQuick.Layouts
import Swardwalk

// Several depth readings of one sighting, as along a channel.
Frame {
    id: page

    required property DepthsModel model

    railWants: answer.wants

    ColumnLayout {
        anchors.fill: parent
        anchors.margins: Theme.around
        spacing: Theme.between

        Heading { text: qsTr("Next reading") }
        Stepper {
            objectName: "depthStepper"
            Layout.fillWidth: true
            field: page.model.reading
            onKeysWanted: keypad.open(page.model.reading, null)
        }
        Rule { Layout.fillWidth: true }
        RowList {
            id: list
            objectName: "depthsList"
            Layout.fillWidth: true
            Layout.fillHeight: true
            spacing: Theme.inside
            model: page.model.rows
            delegate: RowLayout {
                id: row

                required property int index
                required property string title
                required property string figure

                width: ListView.view.width
                height: 56
                spacing: Theme.between
                Words {
                    Layout.fillWidth: true
                    text: row.title
                }
                Words {
                    wrapMode: Text.NoWrap
                    strong: true
                    text: row.figure
                }
                PlainButton {
                    text: qsTr("Take out")
                    Accessible.name: qsTr("Take out %1, %2").arg(row.title).arg(row.figure)
                    onClicked: page.model.takeOut(row.index)
                }
            }
        }
    }

    Keypad {
        id: keypad
        anchors.fill: parent
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        ColumnLayout {
            Layout.fillWidth: true
            spacing: 2
            Heading {
                objectName: "depthAnswer"
                Layout.fillWidth: true
                text: page.model.answer
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.second
            }
        }

        actions: [
            PlainButton {
                objectName: "depthsDone"
                Layout.fillWidth: true
                text: qsTr("Back to the sighting")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "addDepth"
                Layout.fillWidth: true
                enabled: page.model.canAdd
                text: qsTr("Add this depth")
                onClicked: page.model.add()
            }
        ]
    }
}
