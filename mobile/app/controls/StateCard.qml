import QtQuick
import QtQuick.Layouts
import Swardwalk

// A designed state: what this page will show, or what happened, what is safe, what to do.
Card {
    id: card

    required property string overline
    required property string title
    required property string body
    property string advice
    property int weight: Show.Calm
    property string other
    property string action

    signal otherWanted()
    signal actionWanted()

    implicitWidth: 440
    implicitHeight: column.implicitHeight + 44

    Rectangle {
        width: parent.width
        height: 8
        radius: Theme.corner
        color: Theme.weights[card.weight]
    }
    ColumnLayout {
        id: column
        x: 20
        y: 24
        width: parent.width - 40
        spacing: Theme.inside

        Words {
            second: true
            text: card.overline
        }
        Heading {
            Layout.fillWidth: true
            text: card.title
            color: Theme.weights[card.weight]
        }
        Words {
            Layout.fillWidth: true
            text: card.body
        }
        Advice {
            Layout.fillWidth: true
            visible: card.advice !== ""
            title: ""
            reason: card.advice
            weight: Show.Calm
        }
        Item { implicitHeight: Theme.inside }
        RowLayout {
            visible: card.other !== "" || card.action !== ""
            spacing: Theme.inside
            PlainButton {
                visible: card.other !== ""
                Layout.fillWidth: true
                Layout.preferredWidth: 1
                implicitHeight: 64
                text: card.other
                onClicked: card.otherWanted()
            }
            BigAction {
                visible: card.action !== ""
                Layout.fillWidth: true
                Layout.preferredWidth: 1
                implicitHeight: 64
                text: card.action
                onClicked: card.actionWanted()
            }
        }
    }
}
