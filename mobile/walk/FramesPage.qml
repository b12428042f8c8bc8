import QtQuick
import QtQuick.Layouts
import Swardwalk

// Counting frames thrown at random over a green that is thin everywhere.
Frame {
    id: page

    required property FramesModel model

    railWants: answer.wants

    ColumnLayout {
        anchors.fill: parent
        anchors.margins: Theme.around
        spacing: Theme.between

        Heading {
            Layout.fillWidth: true
            text: page.model.show.subject
        }
        GridLayout {
            Layout.fillWidth: true
            columns: page.portrait ? 1 : 2
            columnSpacing: Theme.around
            rowSpacing: Theme.inside
            Repeater {
                model: [page.model.squaresBare, page.model.squares]
                ColumnLayout {
                    id: entry
                    required property int index
                    required property NumberField modelData
                    spacing: Theme.inside
                    Words { text: entry.modelData.label }
                    Stepper {
                        objectName: entry.index === 0 ? "bareStepper" : "squaresStepper"
                        Layout.fillWidth: true
                        field: entry.modelData
                        onKeysWanted: keypad.open(entry.modelData, null)
                    }
                }
            }
        }
        Rule { Layout.fillWidth: true }
        Words {
            second: true
            text: qsTr("Counted together")
        }
        RowList {
            objectName: "framesList"
            Layout.fillWidth: true
            Layout.fillHeight: true
            model: page.model.rows
            delegate: RowLayout {
                id: row

                required property string title
                required property string figure

                width: ListView.view.width
                height: 40
                Words {
                    Layout.fillWidth: true
                    text: row.title
                }
                Words {
                    wrapMode: Text.NoWrap
                    strong: true
                    text: row.figure
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
            Figure {
                objectName: "thinShare"
                visible: page.model.show.share.figure !== ""
                value: page.model.show.share
                size: Theme.answerSize
                lightSize: Theme.headingSize
                strong: true
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.second
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.advice.title !== ""
            title: page.model.show.advice.title
            reason: page.model.show.advice.reason
            weight: page.model.show.advice.weight
        }

        actions: [
            PlainButton {
                objectName: "takeFrameBack"
                Layout.fillWidth: true
                visible: page.model.show.canTakeBack
                text: qsTr("Take the last back")
                onClicked: page.model.takeBack()
            },
            PlainButton {
                objectName: "framesDone"
                Layout.fillWidth: true
                text: qsTr("Back to the walk")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "countFrame"
                Layout.fillWidth: true
                enabled: page.model.show.canCount
                text: qsTr("Save this frame")
                onClicked: page.model.count()
            }
        ]
    }
}
