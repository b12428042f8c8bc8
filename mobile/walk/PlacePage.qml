import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// A better place for a patch: standing on it, tapes from marks, a receiver corrected on a
// mark; and recording marks and one's own pace.
Frame {
    id: page

    required property PlaceModel model
    readonly property bool wantsMarks: page.model.way !== PlaceModel.Stand

    railWants: answer.wants

    ColumnLayout {
        anchors.fill: parent
        anchors.margins: Theme.around
        spacing: Theme.between

        Segments {
            objectName: "placeWays"
            name: qsTr("How placed")
            choices: [qsTr("Stand"), qsTr("Tapes"), qsTr("Correct"), qsTr("New mark"),
                      qsTr("Own pace")]
            current: page.model.way
            onChoose: index => page.model.chooseWay(index)
        }
        Heading {
            Layout.fillWidth: true
            text: page.model.show.subject
        }
        Words {
            Layout.fillWidth: true
            visible: page.model.show.empty !== ""
            text: page.model.show.empty
        }
        Entry {
            visible: page.model.way === PlaceModel.NewMark
            Layout.fillWidth: true
            name: "markName"
            spoken: qsTr("The mark's name")
            wanted: spoken
            text: page.model.markName
            onEdited: text => page.model.markName = text
        }
        RowList {
            id: list
            objectName: "marksList"
            Layout.fillWidth: true
            Layout.fillHeight: true
            spacing: Theme.inside
            visible: page.wantsMarks
            model: page.model.marks
            delegate: T.AbstractButton {
                id: row

                required property string name
                required property string line
                required property string reading
                required property bool chosen

                width: ListView.view.width
                height: 64
                text: name
                Accessible.role: Accessible.RadioButton
                Accessible.name: name + ", " + line + (reading !== "" ? ", " + reading : "")
                Accessible.checked: chosen
                Accessible.onPressAction: row.clicked()
                onClicked: {
                    page.model.chooseMark(row.name);
                    if (page.model.way === PlaceModel.Tapes)
                        keypad.open(page.model.tape, null);
                }
                background: Rectangle {
                    radius: Theme.corner
                    color: Theme.paper
                    border.width: row.chosen ? 3 : 1.5
                    border.color: row.chosen ? Theme.ink : Theme.line
                }
                leftPadding: Theme.between
                rightPadding: Theme.between
                contentItem: RowLayout {
                    Words {
                        Layout.fillWidth: true
                        strong: row.chosen
                        text: row.name
                    }
                    Words {
                        second: true
                        text: row.line
                    }
                    Words {
                        visible: text !== ""
                        strong: true
                        text: row.reading
                    }
                }
            }
        }
        Stepper {
            objectName: "pacesStepper"
            visible: page.model.way === PlaceModel.OwnPace
            Layout.fillWidth: true
            field: page.model.paces
            onKeysWanted: keypad.open(page.model.paces, null)
        }
        Item {
            visible: !page.wantsMarks
            Layout.fillHeight: true
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
                objectName: "placeAnswer"
                Layout.fillWidth: true
                text: page.model.show.answer
            }
            Words {
                Layout.fillWidth: true
                visible: text !== ""
                second: true
                text: page.model.show.second
            }
        }
        PlainButton {
            Layout.fillWidth: true
            visible: page.model.show.firstSide !== ""
            chosen: page.model.show.side === 0
            text: page.model.show.firstSide
            onClicked: page.model.chooseSide(0)
        }
        PlainButton {
            Layout.fillWidth: true
            visible: page.model.show.secondSide !== ""
            chosen: page.model.show.side === 1
            text: page.model.show.secondSide
            onClicked: page.model.chooseSide(1)
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
                Layout.fillWidth: true
                text: qsTr("Back to the sighting")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "placeAction"
                Layout.fillWidth: true
                enabled: page.model.show.canAct
                text: page.model.show.action
                onClicked: page.model.act()
            }
        ]
    }
}
