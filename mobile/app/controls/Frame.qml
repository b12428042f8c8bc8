import QtQuick
import Swardwalk

// A page: what it is about, and a rail with the answer on top and the action at the
// bottom. The rail lies at a side; in portrait below, as high as it wants to be unless that
// takes too much of the page.
Item {
    id: frame

    required property bool portrait
    required property bool leftHanded
    default property alias content: area.data
    property alias rail: rail.data
    required property real railWants
    property real railMost: 0.34 * height
    readonly property real railHeight: Math.min(railWants, railMost)

    Rectangle {
        anchors.fill: parent
        color: Theme.ground
    }
    Item {
        id: area
        clip: true
        x: !frame.portrait && frame.leftHanded ? Theme.rail : 0
        width: frame.portrait ? frame.width : frame.width - Theme.rail
        height: frame.portrait ? frame.height - frame.railHeight : frame.height
    }
    Rectangle {
        id: rail
        color: Theme.paper
        x: frame.portrait || frame.leftHanded ? 0 : frame.width - Theme.rail
        y: frame.portrait ? frame.height - frame.railHeight : 0
        width: frame.portrait ? frame.width : Theme.rail
        height: frame.portrait ? frame.railHeight : frame.height
    }
    Rectangle {
        color: Theme.ink
        x: frame.portrait ? 0 : frame.leftHanded ? Theme.rail - 2 : frame.width - Theme.rail
        y: frame.portrait ? frame.height - frame.railHeight : 0
        width: frame.portrait ? frame.width : 2
        height: frame.portrait ? 2 : frame.height
    }
}
