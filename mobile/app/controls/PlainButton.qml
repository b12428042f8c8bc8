import QtQuick
import QtQuick.Templates as T
import Swardwalk

// An outlined button; `chosen` is a thick border and bold, never a fill.
T.AbstractButton {
    id: button

    property bool chosen: false
    property bool quiet: false

    implicitHeight: 56
    implicitWidth: Math.max(Theme.target, label.implicitWidth + 2 * Theme.between)
    Accessible.role: checkable ? Accessible.CheckBox : Accessible.Button
    Accessible.name: text
    Accessible.onPressAction: button.clicked()

    background: Rectangle {
        radius: Theme.corner
        color: button.down ? Theme.ground : Theme.paper
        border.width: button.chosen ? 3 : button.activeFocus ? 2.5 : 1.5
        border.color: !button.enabled || (button.quiet && !button.chosen) ? Theme.line : Theme.ink
    }
    contentItem: Text {
        id: label
        text: button.text
        font.family: Theme.family
        font.pixelSize: Theme.bodySize
        font.bold: button.chosen
        color: button.enabled ? Theme.ink : Theme.ink2
        horizontalAlignment: Text.AlignHCenter
        verticalAlignment: Text.AlignVCenter
        elide: Text.ElideRight
    }
}
