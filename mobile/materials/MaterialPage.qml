import QtQuick
import QtQuick.Layouts
import Swardwalk

// One material, entered or corrected from its label.
Frame {
    id: page

    required property MaterialForm model
    readonly property bool ofGrass: model.show.shelf === Shelves.SeedLot
                                    || model.show.shelf === Shelves.Turf

    railWants: answer.wants

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
            spacing: Theme.between

            Entry {
                Layout.fillWidth: true
                visible: page.model.show.isNew
                name: "materialName"
                spoken: qsTr("Name")
                wanted: qsTr("The name on the label")
                text: page.model.name
                onEdited: text => page.model.name = text
            }
            Words {
                visible: page.ofGrass
                text: qsTr("Grass")
            }
            Flow {
                Layout.fillWidth: true
                visible: page.ofGrass
                spacing: Theme.inside
                Repeater {
                    model: page.model.grasses
                    PlainButton {
                        required property string name
                        required property bool picked
                        implicitHeight: Theme.target
                        quiet: true
                        chosen: picked
                        text: name
                        onClicked: page.model.toggleGrass(name)
                    }
                }
            }
            GridLayout {
                Layout.fillWidth: true
                columns: page.width > 700 ? 2 : 1
                columnSpacing: Theme.around
                rowSpacing: Theme.between
                Repeater {
                    model: page.model.grasses
                    NumberPart {
                        required property bool picked
                        required property NumberField share
                        visible: picked && page.model.blend
                        field: share
                        onKeysWanted: keypad.open(share, null)
                    }
                }
                Repeater {
                    model: page.model.fields
                    NumberPart {
                        required property NumberField modelData
                        field: modelData
                        onKeysWanted: keypad.open(modelData, null)
                    }
                }
            }
            Words {
                visible: page.model.show.shelf === Shelves.SeedLot
                text: qsTr("Day of the germination test")
            }
            Entry {
                Layout.fillWidth: true
                visible: page.model.show.shelf === Shelves.SeedLot
                name: "tested"
                spoken: qsTr("Day of the germination test")
                wanted: qsTr("year-month-day, as on the label")
                hints: Qt.ImhPreferNumbers
                most: 10
                text: page.model.tested
                onEdited: text => page.model.tested = text
            }
            Words {
                visible: page.model.show.shelf !== Shelves.Turf
                text: qsTr("Packs, kg")
            }
            RowLayout {
                visible: page.model.show.shelf !== Shelves.Turf
                spacing: Theme.inside
                Entry {
                    Layout.fillWidth: true
                    name: "packs"
                    spoken: qsTr("Pack sizes in kilograms")
                    wanted: qsTr("sizes with spaces between them: 0.25 1 10")
                    hints: Qt.ImhPreferNumbers
                    text: page.model.packs
                    onEdited: text => page.model.packs = text
                }
                PlainButton {
                    checkable: true
                    checked: page.model.show.bulk
                    chosen: page.model.show.bulk
                    text: page.model.show.bulk ? qsTr("Loose: yes") : qsTr("Loose: no")
                    Accessible.name: qsTr("Delivered loose")
                    onClicked: page.model.toggleBulk()
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

        Heading {
            Layout.fillWidth: true
            text: page.model.show.title
        }
        Words {
            Layout.fillWidth: true
            visible: text !== ""
            text: page.model.show.left
        }
        Words {
            Layout.fillWidth: true
            second: true
            text: qsTr("What is left empty stays unknown; a stock that is not counted anew stays as the records have it.")
        }
        Words {
            objectName: "materialMissing"
            Layout.fillWidth: true
            visible: text !== ""
            strong: true
            text: page.model.show.missing
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
                objectName: "saveMaterial"
                Layout.fillWidth: true
                enabled: page.model.show.missing === ""
                text: qsTr("Save")
                onClicked: page.model.save()
            }
        ]
    }
}
