import QtQuick
import Swardwalk

// What a rail speaks of: a patch's symbol beside two lines. Anchors, because a layout in a
// layout keeps old places when text that wraps settles late.
Item {
    id: subject

    required property symbolLook look
    property string overline
    property string title
    property string second

    implicitHeight: Math.max(symbol.height, lines.height)

    Symbol {
        id: symbol
        anchors.verticalCenter: parent.verticalCenter
        look: subject.look
        symbolSize: 36
    }
    Column {
        id: lines
        x: symbol.width + Theme.between
        width: parent.width - x
        anchors.verticalCenter: parent.verticalCenter
        Words {
            visible: text !== ""
            width: parent.width
            second: true
            text: subject.overline
        }
        Heading {
            width: parent.width
            text: subject.title
        }
        Words {
            visible: text !== ""
            width: parent.width
            text: subject.second
        }
    }
}
