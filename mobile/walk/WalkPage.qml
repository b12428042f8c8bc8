import QtQuick
import QtQuick.Layouts
import Swardwalk

// Walking: the plan, the round, and the nearest patch that nobody has looked at yet.
Frame {
    id: page

    required property WalkModel model

    // Nothing in this rail can be left below its edge.
    railMost: height
    railWants: grid.implicitHeight + 2 * Theme.between + 8

    PlanPane {
        id: pane
        objectName: "walkPlan"
        anchors.fill: parent
        visible: page.model.show.hasGreen
        source: page.model.plan
        onPatchTapped: patch => page.model.choosePatch(patch)
        onPlaceTapped: (east, north, doubt) => page.model.tapPlace(east, north, doubt)
    }

    StateCard {
        visible: !page.model.show.hasGreen
        anchors.centerIn: parent
        width: Math.min(parent.width - 2 * Theme.around, 440)
        overline: qsTr("First start")
        title: qsTr("No greens here yet")
        body: qsTr("This page will show your greens and what is wrong on them.")
        advice: qsTr("The shed gives them. Without it, walk round one and it is drawn.")
        other: qsTr("Walk a green")
        action: qsTr("Meet the shed")
        onOtherWanted: page.model.walkGreen()
        onActionWanted: page.model.openShed()
    }

    Row {
        visible: page.model.show.hasGreen
        anchors.right: parent.right
        anchors.top: parent.top
        anchors.margins: Theme.between
        spacing: 11
        PlainButton {
            visible: page.model.show.severalGreens
            implicitHeight: Theme.target
            text: greens.visible ? qsTr("Close list") : qsTr("Other green")
            onClicked: greens.visible = !greens.visible
        }
        PlainButton {
            implicitHeight: Theme.target
            text: qsTr("Follow me")
            chosen: pane.following
            onClicked: pane.following = !pane.following
        }
    }

    Card {
        id: greens
        visible: false
        loud: true
        anchors.right: parent.right
        anchors.rightMargin: Theme.between
        y: 76
        width: Math.min(parent.width - 2 * Theme.between, 380)
        height: Math.min(parent.height - 160, greenList.contentHeight + 16)
        RowList {
            id: greenList
            anchors.fill: parent
            anchors.margins: 8
            model: page.model.greens
            delegate: PlainButton {
                id: greenRow
                required property string name
                required property string line
                required property bool current
                width: ListView.view.width
                implicitHeight: Theme.target + 4
                quiet: true
                chosen: current
                text: qsTr("%1, %2").arg(name).arg(line)
                onClicked: {
                    greens.visible = false;
                    page.model.chooseGreen(greenRow.name);
                }
            }
        }
    }

    Card {
        id: positionCard
        readonly property Whereabouts where: page.model.whereabouts
        visible: page.model.show.hasGreen && where.state !== Whereabouts.Good
        x: 90
        y: Theme.between
        width: Math.min(360, parent.width - 460)
        height: positionAdvice.implicitHeight + 24
        Advice {
            id: positionAdvice
            x: 12
            y: 12
            width: parent.width - 24
            title: positionCard.where.title
            reason: positionCard.where.reason
            weight: Show.Watch
        }
    }

    Row {
        visible: page.model.show.hasGreen
        anchors.right: parent.right
        anchors.bottom: parent.bottom
        anchors.margins: Theme.between
        spacing: 11
        PlainButton {
            objectName: "countFrames"
            implicitHeight: Theme.target
            text: qsTr("Count frames")
            onClicked: page.model.countFrames()
        }
        PlainButton {
            implicitHeight: Theme.target
            text: page.model.show.running ? qsTr("Finish round") : qsTr("Start round")
            onClicked: {
                if (page.model.show.running)
                    page.model.finishRound();
                else
                    page.model.startRound();
            }
        }
        PlainButton {
            implicitHeight: Theme.target
            text: qsTr("Whole green")
            onClicked: pane.wholeGreen()
        }
    }

    rail: GridLayout {
        id: grid
        x: Theme.around
        y: page.portrait ? Theme.between : Theme.around - 6
        width: parent.width - 2 * Theme.around
        height: page.portrait ? implicitHeight : parent.height - y - Theme.around
        columns: page.portrait ? 2 : 1
        columnSpacing: Theme.around
        rowSpacing: Theme.between

        ColumnLayout {
            Layout.row: 0
            Layout.column: 0
            Layout.fillWidth: true
            Layout.preferredWidth: 1
            Layout.alignment: Qt.AlignTop
            spacing: 4

            Heading {
                text: page.model.show.hasGreen ? page.model.show.green : qsTr("No green yet")
            }
            Words {
                Layout.fillWidth: true
                second: true
                visible: page.model.show.hasGreen
                text: page.model.show.rain
            }
            Words {
                Layout.topMargin: 8
                Layout.fillWidth: true
                visible: page.model.show.hasGreen
                text: page.model.show.round
            }
            Bar {
                Layout.fillWidth: true
                visible: page.model.show.hasGreen
                share: page.model.show.seen
            }
        }

        NearCard {
            Layout.row: page.portrait ? 0 : 1
            Layout.column: page.portrait ? 1 : 0
            Layout.rowSpan: page.portrait ? 3 : 1
            Layout.fillWidth: true
            Layout.preferredWidth: 1
            Layout.fillHeight: page.portrait
            visible: page.model.near.there
            model: page.model
        }

        ColumnLayout {
            Layout.row: page.portrait ? 1 : 2
            Layout.column: 0
            Layout.fillWidth: true
            Layout.preferredWidth: 1
            Layout.fillHeight: true
            Layout.minimumHeight: page.portrait ? 130 : 0
            spacing: Theme.inside

            Words {
                second: true
                visible: page.portrait && thenList.count > 0
                text: qsTr("Then")
            }
            Repeater {
                id: thenList
                model: page.portrait ? page.model.then : null
                RowLayout {
                    id: thenRow
                    required property symbolLook look
                    required property string title
                    required property string away
                    spacing: Theme.inside
                    Symbol {
                        look: thenRow.look
                        symbolSize: 24
                    }
                    Words {
                        Layout.fillWidth: true
                        elide: Text.ElideRight
                        wrapMode: Text.NoWrap
                        text: thenRow.title
                    }
                    Words { text: thenRow.away }
                }
            }
            Item { Layout.fillHeight: true }
        }

        ColumnLayout {
            Layout.row: page.portrait ? 2 : 3
            Layout.column: 0
            Layout.fillWidth: true
            Layout.preferredWidth: 1
            spacing: Theme.inside

            PlainButton {
                Layout.fillWidth: true
                visible: page.model.show.draft !== ""
                text: qsTr("Go on with the outline")
                onClicked: page.model.resumeDraft()
            }
            RowLayout {
                visible: page.model.show.pin !== ""
                Words {
                    Layout.fillWidth: true
                    second: true
                    text: page.model.show.pin
                }
                PlainButton {
                    text: qsTr("Forget it")
                    onClicked: page.model.forgetPin()
                }
            }
            RowLayout {
                visible: page.model.show.saved !== "" || page.model.show.canUndo
                Words {
                    objectName: "savedLine"
                    Layout.fillWidth: true
                    second: true
                    color: page.model.show.savedWeight === Show.Calm
                           ? Theme.ink2 : Theme.weights[page.model.show.savedWeight]
                    text: page.model.show.saved
                }
                PlainButton {
                    objectName: "photoOfSaved"
                    implicitWidth: 96
                    visible: page.model.show.canPhoto
                    text: qsTr("Photo")
                    onClicked: page.model.photograph()
                }
                PlainButton {
                    implicitWidth: 96
                    visible: page.model.show.canUndo
                    text: qsTr("Undo")
                    onClicked: page.model.undo()
                }
            }
        }

        BigAction {
            objectName: "markButton"
            Layout.row: page.portrait ? 3 : 4
            Layout.column: 0
            Layout.columnSpan: page.portrait ? 2 : 1
            Layout.fillWidth: true
            enabled: page.model.show.hasGreen
            text: qsTr("Mark")
            onClicked: page.model.mark()
        }
    }
}
