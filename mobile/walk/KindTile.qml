import QtQuick
import QtQuick.Templates as T
import Swardwalk

// A kind of patch as a large tile: symbol and word.
T.AbstractButton {
    id: tile

    required property int kind
    property bool chosen: false

    implicitHeight: 184
    implicitWidth: 160
    Accessible.role: Accessible.RadioButton
    Accessible.name: text
    Accessible.checked: chosen
    Accessible.onPressAction: tile.clicked()

    background: Rectangle {
        radius: Theme.corner
        color: Theme.paper
        border.width: tile.chosen ? 4 : 1.5
        border.color: tile.chosen ? Theme.ink : Theme.line
    }
    contentItem: Item {
        Symbol {
            kind: tile.kind
            symbolSize: 60
            anchors.horizontalCenter: parent.horizontalCenter
            y: parent.height * 0.42 - height / 2
        }
        Words {
            anchors.horizontalCenter: parent.horizontalCenter
            y: parent.height * 0.78 - height / 2
            strong: tile.chosen
            text: tile.text
        }
    }
}
