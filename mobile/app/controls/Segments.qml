import QtQuick
import QtQuick.Templates as T
import Swardwalk

// One of several, side by side in one box.
Row {
    id: row

    required property var choices   // words, in order
    required property int current
    property string name

    signal choose(int index)

    height: Theme.target

    Repeater {
        model: row.choices

        T.AbstractButton {
            id: segment

            required property string modelData
            required property int index
            readonly property bool chosen: index === row.current

            text: modelData
            z: chosen ? 1 : 0
            height: row.height
            width: label.implicitWidth + 2 * Theme.between + 4
            Accessible.role: Accessible.RadioButton
            Accessible.name: row.name + ": " + modelData
            Accessible.checked: chosen
            Accessible.onPressAction: segment.clicked()
            onClicked: row.choose(index)

            background: Rectangle {
                radius: Theme.corner
                color: Theme.paper
                border.width: segment.chosen ? 3 : 1.5
                border.color: segment.chosen ? Theme.ink : Theme.line
            }
            contentItem: Text {
                id: label
                text: segment.text
                font.family: Theme.family
                font.pixelSize: Theme.bodySize
                font.bold: segment.chosen
                color: Theme.ink
                horizontalAlignment: Text.AlignHCenter
                verticalAlignment: Text.AlignVCenter
            }
        }
    }
}
