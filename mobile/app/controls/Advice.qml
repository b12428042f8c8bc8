import QtQuick
import Swardwalk

// A bar in the colour of its meaning; first the advice in bold, then the reason.
Item {
    id: advice

    required property string title
    required property string reason
    required property int weight
    property int titleSize: Theme.bodySize

    implicitHeight: column.implicitHeight
    implicitWidth: 280
    Accessible.role: Accessible.StaticText
    Accessible.name: title + " " + reason

    Rectangle {
        width: 6
        height: parent.height
        color: advice.weight === Show.Calm ? Theme.line : Theme.weights[advice.weight]
    }
    Column {
        id: column
        x: 18
        width: parent.width - 18
        spacing: 2

        Words {
            width: parent.width
            visible: text !== ""
            strong: true
            font.pixelSize: advice.titleSize
            text: advice.title
            color: Theme.weights[advice.weight]
        }
        Words {
            width: parent.width
            visible: text !== ""
            second: true
            text: advice.reason
        }
    }
}
