import QtQuick
import Swardwalk

// Progress as a bar; its count stands beside it in words.
Rectangle {
    id: bar

    required property real share
    property color fill: Theme.ink2

    implicitHeight: 16
    radius: 4
    color: Theme.paper
    border.width: 1.5
    border.color: Theme.ink
    Accessible.role: Accessible.ProgressBar
    Accessible.name: qsTr("%1 per cent").arg(Math.round(share * 100))

    Rectangle {
        x: 1.5
        y: 1.5
        height: parent.height - 3
        width: (parent.width - 3) * Math.max(0, Math.min(1, bar.share))
        radius: 3
        color: bar.fill
    }
}
