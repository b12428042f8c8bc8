import QtQuick
import QtQuick.Layouts
import Swardwalk

// The patch that the rail speaks of, and the question whether one stands at it.
Card {
    id: card

    required property WalkModel model
    readonly property nearPatch near: model.near

    loud: true
    implicitHeight: column.implicitHeight + 2 * Theme.between

    ColumnLayout {
        id: column
        x: Theme.between
        y: Theme.between
        width: parent.width - 2 * Theme.between
        height: parent.height - 2 * Theme.between
        spacing: 4

        Words {
            second: true
            text: card.near.why
        }
        RowLayout {
            spacing: Theme.between
            Symbol {
                look: card.near.look
                symbolSize: 34
            }
            ColumnLayout {
                visible: card.near.distance !== ""
                spacing: 0
                RowLayout {
                    spacing: 10
                    Heading { text: card.near.distance }
                    Canvas {
                        id: arrow
                        implicitWidth: 24
                        implicitHeight: 24
                        rotation: card.near.bearing
                        property color ink: Theme.ink
                        onInkChanged: requestPaint()
                        onPaint: {
                            const to = getContext("2d");
                            to.reset();
                            to.fillStyle = ink;
                            to.beginPath();
                            to.moveTo(12, 1);
                            to.lineTo(20, 23);
                            to.lineTo(12, 17);
                            to.lineTo(4, 23);
                            to.closePath();
                            to.fill();
                        }
                    }
                }
                Words { text: card.near.compass }
            }
        }
        Words {
            Layout.fillWidth: true
            text: card.near.title
        }
        Words {
            Layout.fillWidth: true
            strong: true
            text: card.near.answer
            color: Theme.weights[card.near.weight]
        }
        Figure {
            visible: card.near.area.figure !== ""
            value: card.near.area
        }
        Words {
            Layout.fillWidth: true
            second: true
            text: card.near.seen
        }
        Item { Layout.fillHeight: true }
        Rule {
            Layout.fillWidth: true
            Layout.topMargin: 4
        }
        Words {
            visible: card.near.maybeSame
            Layout.topMargin: 4
            text: qsTr("Same patch?")
        }
        RowLayout {
            Layout.topMargin: 4
            spacing: Theme.inside
            PlainButton {
                objectName: "measureNear"
                Layout.fillWidth: true
                text: card.near.maybeSame ? qsTr("Yes, measure") : qsTr("Measure it")
                onClicked: card.model.measureNear()
            }
            PlainButton {
                visible: card.near.maybeSame
                Layout.fillWidth: true
                text: qsTr("No, new")
                onClicked: card.model.mark()
            }
        }
    }
}
