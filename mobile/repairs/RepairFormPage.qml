import QtQuick
import QtQuick.Layouts
import Swardwalk

// A repair that was done, with what it took.
Frame {
    id: page

    required property RepairForm model

    railWants: answer.wants

    component Part: NumberPart {
        id: part

        property string material
        property var materials: []

        signal materialChosen(string name)

        Flow {
            Layout.fillWidth: true
            spacing: Theme.inside
            Repeater {
                model: part.materials
                PlainButton {
                    required property string modelData
                    implicitHeight: Theme.target
                    quiet: true
                    chosen: modelData === part.material
                    text: modelData
                    onClicked: part.materialChosen(modelData)
                }
            }
        }
    }

    Flickable {
        anchors.fill: parent
        contentHeight: form.implicitHeight + 2 * Theme.between
        interactive: contentHeight > height
        boundsBehavior: Flickable.StopAtBounds

        ColumnLayout {
            id: form
            x: Theme.around
            y: Theme.between
            width: parent.width - 2 * Theme.around
            spacing: Theme.around

            PlainButton {
                implicitHeight: Theme.target
                checkable: true
                checked: page.model.show.rakedBack
                chosen: page.model.show.rakedBack
                text: page.model.show.rakedBack ? qsTr("Raked back: yes") : qsTr("Raked back: no")
                onClicked: page.model.toggleRakedBack()
            }
            GridLayout {
                columns: page.width > 700 ? 2 : 1
                columnSpacing: Theme.around
                rowSpacing: Theme.around
                Part {
                    field: page.model.fill
                    material: page.model.show.fill
                    materials: page.model.show.fills
                    onMaterialChosen: name => page.model.chooseFill(name)
                    onKeysWanted: keypad.open(page.model.fill, null)
                }
                Part {
                    field: page.model.seed
                    material: page.model.show.seedLot
                    materials: page.model.show.seedLots
                    onMaterialChosen: name => page.model.chooseSeedLot(name)
                    onKeysWanted: keypad.open(page.model.seed, null)
                }
                Part {
                    field: page.model.turf
                    onKeysWanted: keypad.open(page.model.turf, null)
                }
                Part {
                    field: page.model.feed
                    material: page.model.show.feed
                    materials: page.model.show.feeds
                    onMaterialChosen: name => page.model.chooseFeed(name)
                    onKeysWanted: keypad.open(page.model.feed, null)
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

        Subject {
            Layout.fillWidth: true
            look: page.model.show.look
            overline: qsTr("Planned")
            title: page.model.show.planned !== "" ? page.model.show.planned
                                                  : qsTr("Nothing planned")
        }
        Words {
            Layout.fillWidth: true
            second: true
            visible: text !== ""
            text: page.model.show.reason
        }
        Rule { Layout.fillWidth: true }
        Words {
            Layout.fillWidth: true
            text: page.model.show.summary
        }
        Advice {
            Layout.fillWidth: true
            visible: title !== ""
            title: page.model.show.trouble.title
            reason: page.model.show.trouble.reason
            weight: Show.Stop
        }

        actions: [
            PlainButton {
                Layout.fillWidth: true
                text: qsTr("Back, save nothing")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "saveRepair"
                Layout.fillWidth: true
                enabled: page.model.show.canSave
                text: qsTr("Save")
                onClicked: page.model.save()
            }
        ]
    }
}
