import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// One sighting: its kind, and if one likes its size, depth and a note.
Frame {
    id: page

    required property MarkModel model

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
            height: Math.max(implicitHeight, page.portrait ? 0 : page.height - 2 * Theme.around)
            spacing: page.portrait ? Theme.around : Theme.between

            Heading { text: qsTr("Kind") }
            RowLayout {
                spacing: Theme.between
                KindTile {
                    objectName: "kindBare"
                    Layout.fillWidth: true
                    text: qsTr("Bare")
                    kind: Show.Bare
                    chosen: page.model.kind === kind
                    onClicked: page.model.chooseKind(Show.Bare)
                }
                KindTile {
                    objectName: "kindHungry"
                    Layout.fillWidth: true
                    text: qsTr("Hungry")
                    kind: Show.Hungry
                    chosen: page.model.kind === kind
                    onClicked: page.model.chooseKind(Show.Hungry)
                }
                KindTile {
                    objectName: "kindDug"
                    Layout.fillWidth: true
                    text: qsTr("Dug")
                    kind: Show.Dug
                    chosen: page.model.kind === kind
                    onClicked: page.model.chooseKind(Show.Dug)
                }
                KindTile {
                    objectName: "kindWashed"
                    Layout.fillWidth: true
                    text: qsTr("Washed")
                    kind: Show.Washed
                    chosen: page.model.kind === kind
                    onClicked: page.model.chooseKind(Show.Washed)
                }
            }
            RowLayout {
                Layout.topMargin: Theme.inside
                Heading {
                    Layout.fillWidth: true
                    text: qsTr("Size")
                }
                Segments {
                    name: qsTr("Size")
                    choices: [qsTr("Tape"), qsTr("Paces"), qsTr("Frame")]
                    current: page.model.way
                    onChoose: index => page.model.chooseWay(
                        index === 0 ? MarkModel.Tape
                                    : index === 1 ? MarkModel.Paces : MarkModel.Frame)
                }
                PlainButton {
                    objectName: "walkOutline"
                    implicitHeight: Theme.target
                    enabled: page.model.kind !== Show.NoKind
                    text: qsTr("Walk it")
                    Accessible.name: qsTr("Walk the outline")
                    onClicked: page.model.walkOutline()
                }
                PlainButton {
                    objectName: "drawOutline"
                    implicitHeight: Theme.target
                    enabled: page.model.kind !== Show.NoKind && page.model.show.hasPlan
                    text: qsTr("Draw it")
                    Accessible.name: qsTr("Draw the outline on the plan")
                    onClicked: page.model.drawOutline()
                }
            }
            GridLayout {
                visible: page.model.way === MarkModel.Tape
                columns: 2
                columnSpacing: Theme.around
                rowSpacing: Theme.inside
                Words { text: page.model.length.label }
                Words { text: page.model.width.label }
                Stepper {
                    objectName: "lengthStepper"
                    Layout.fillWidth: true
                    field: page.model.length
                    onKeysWanted: keypad.open(page.model.length, page.model.width)
                }
                Stepper {
                    objectName: "widthStepper"
                    Layout.fillWidth: true
                    field: page.model.width
                    onKeysWanted: keypad.open(page.model.width, null)
                }
            }
            GridLayout {
                visible: page.model.way === MarkModel.Paces
                columns: 2
                columnSpacing: Theme.around
                rowSpacing: Theme.inside
                Words { text: page.model.lengthPaces.label }
                Words { text: page.model.widthPaces.label }
                Stepper {
                    Layout.fillWidth: true
                    field: page.model.lengthPaces
                    onKeysWanted: keypad.open(page.model.lengthPaces, page.model.widthPaces)
                }
                Stepper {
                    Layout.fillWidth: true
                    field: page.model.widthPaces
                    onKeysWanted: keypad.open(page.model.widthPaces, null)
                }
            }
            RowLayout {
                visible: page.model.way !== MarkModel.Frame
                Words {
                    Layout.fillWidth: true
                    text: qsTr("Form")
                }
                Segments {
                    name: qsTr("Form")
                    choices: [qsTr("Oval"), qsTr("Rectangle"), qsTr("Triangle")]
                    current: page.model.form
                    onChoose: index => page.model.chooseForm(
                        index === 0 ? MarkModel.Oval
                                    : index === 1 ? MarkModel.Rectangle : MarkModel.Triangle)
                }
            }
            GridLayout {
                visible: page.model.way === MarkModel.Frame
                columns: 2
                columnSpacing: Theme.around
                rowSpacing: Theme.inside
                Words { text: page.model.squaresBare.label }
                Words { text: page.model.squares.label }
                Stepper {
                    Layout.fillWidth: true
                    field: page.model.squaresBare
                    onKeysWanted: keypad.open(page.model.squaresBare, page.model.squares)
                }
                Stepper {
                    Layout.fillWidth: true
                    field: page.model.squares
                    onKeysWanted: keypad.open(page.model.squares, null)
                }
            }
            RowLayout {
                visible: page.model.way === MarkModel.Frame
                Words {
                    Layout.fillWidth: true
                    text: page.model.frameSide.label
                }
                PlainButton {
                    implicitHeight: Theme.target
                    text: page.model.frameSide.figure + " " + page.model.frameSide.unit
                    Accessible.name: page.model.frameSide.label + " " + text
                    onClicked: keypad.open(page.model.frameSide, null)
                }
            }
            Rule { Layout.fillWidth: true }
            Words {
                Layout.fillWidth: true
                second: true
                text: qsTr("If you like, now or later. With the depth, the sand is worked out too.")
            }
            RowLayout {
                spacing: Theme.between
                PlainButton {
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    quiet: true
                    objectName: "depthButton"
                    chosen: page.model.show.depth !== ""
                    text: page.model.show.depth !== "" ? page.model.show.depth : qsTr("Depth")
                    onClicked: page.model.readDepths()
                }
                PlainButton {
                    objectName: "shareButton"
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    quiet: true
                    visible: page.model.way !== MarkModel.Frame
                    chosen: page.model.show.share !== ""
                    text: chosen ? page.model.show.share : page.model.bareShare.label
                    Accessible.name: page.model.bareShare.label + " " + page.model.show.share
                    onClicked: keypad.open(page.model.bareShare, null)
                }
                PlainButton {
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    quiet: true
                    chosen: page.model.note !== ""
                    text: page.model.note !== "" ? page.model.note : qsTr("Note")
                    Accessible.name: qsTr("Note")
                    onClicked: notePad.open()
                }
            }
            Item { Layout.fillHeight: true }
        }
    }

    Keypad {
        id: keypad
        anchors.fill: parent
    }

    Rectangle {
        id: notePad

        function open() {
            noteText.text = page.model.note;
            notePad.visible = true;
            noteText.forceActiveFocus();
        }

        anchors.fill: parent
        visible: false
        color: Theme.ground
        MouseArea { anchors.fill: parent }
        ColumnLayout {
            x: Theme.around
            y: Theme.between
            width: parent.width - 2 * Theme.around
            spacing: Theme.between
            Heading { text: qsTr("Note") }
            Card {
                Layout.fillWidth: true
                implicitHeight: 180
                loud: true
                T.TextArea {
                    id: noteText
                    anchors.fill: parent
                    padding: Theme.between
                    font.family: Theme.family
                    font.pixelSize: Theme.bodySize
                    color: Theme.ink
                    selectionColor: Theme.line
                    wrapMode: Text.WordWrap
                    Accessible.name: qsTr("Note")
                }
            }
            RowLayout {
                spacing: Theme.inside
                PlainButton {
                    implicitHeight: 64
                    implicitWidth: 140
                    text: qsTr("Back")
                    onClicked: notePad.visible = false
                }
                BigAction {
                    Layout.fillWidth: true
                    implicitHeight: 64
                    text: qsTr("Take it")
                    onClicked: {
                        page.model.note = noteText.text;
                        notePad.visible = false;
                    }
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        ColumnLayout {
            Layout.fillWidth: true
            spacing: 2
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.subject
            }
            Figure {
                visible: page.model.show.area.figure !== ""
                value: page.model.show.area
                size: Theme.answerSize
                lightSize: Theme.headingSize
                strong: true
            }
            Words {
                Layout.fillWidth: true
                visible: page.model.show.area.figure === ""
                text: page.model.show.noArea
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.trouble.title !== ""
            title: page.model.show.trouble.title
            reason: page.model.show.trouble.reason
            weight: Show.Stop
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.advice.title !== ""
            title: page.model.show.advice.title
            reason: page.model.show.advice.reason
            weight: page.model.show.advice.weight
        }
        Card {
            visible: page.model.show.hasPlan
            Layout.fillWidth: true
            implicitHeight: page.portrait ? 130 : 190
            clip: true
            PlanPane {
                objectName: "markPlan"
                anchors.fill: parent
                anchors.margins: 1.5
                margin: 6
                movable: false
                source: page.model.plan
                onPlaceTapped: (east, north, doubt) => page.model.tapPlace(east, north, doubt)
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.same.title !== ""
            title: page.model.show.same.title
            reason: page.model.show.same.reason
            weight: page.model.show.same.weight
        }
        PlainButton {
            objectName: "placeBetter"
            Layout.fillWidth: true
            text: qsTr("Place it better")
            onClicked: page.model.placeBetter()
        }
        PlainButton {
            Layout.fillWidth: true
            visible: page.model.show.canBeSame
            text: page.model.show.sameButton
            onClicked: page.model.takeSame()
        }

        actions: [
            PlainButton {
                Layout.fillWidth: true
                text: qsTr("Back, save nothing")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "saveButton"
                Layout.fillWidth: true
                enabled: page.model.show.canSave
                text: qsTr("Save")
                onClicked: page.model.save()
            }
        ]
    }
}
