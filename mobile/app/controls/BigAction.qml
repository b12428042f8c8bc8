import QtQuick
import QtQuick.Templates as T
import Swardwalk

// The one thing to do on a page; outlined while it stops what is running.
T.AbstractButton {
    id: button

    property bool outlined: false

    implicitHeight: Theme.bigAction
    implicitWidth: Math.max(Theme.rail - 2 * Theme.around, label.implicitWidth + 2 * Theme.around)
    Accessible.role: Accessible.Button
    Accessible.name: text
    Accessible.onPressAction: button.clicked()

    background: Rectangle {
        radius: Theme.corner
        color: button.outlined ? Theme.paper : button.enabled ? Theme.action : Theme.paper
        border.width: button.outlined || !button.enabled ? 2 : button.activeFocus ? 3 : 0
        border.color: button.enabled ? Theme.ink : Theme.line
        opacity: button.down ? 0.8 : 1
    }
    contentItem: Text {
        id: label
        text: button.text
        font.family: Theme.family
        font.pixelSize: Theme.headingSize
        font.bold: true
        color: !button.enabled ? Theme.ink2 : button.outlined ? Theme.ink : Theme.onAction
        horizontalAlignment: Text.AlignHCenter
        verticalAlignment: Text.AlignVCenter
        wrapMode: Text.WordWrap
    }
}
