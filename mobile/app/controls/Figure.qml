import QtQuick
import Swardwalk

// A number with its doubt and unit, which are smaller and lighter than the figure.
Row {
    id: row

    required property writtenText value
    property int size: Theme.bodySize
    property int lightSize: Theme.secondSize
    property bool strong: false
    // In lists the doubt has a fixed width, so that figures line up.
    property real lightWidth: -1

    spacing: 8
    Accessible.role: Accessible.StaticText
    Accessible.name: value.figure + " " + value.doubt + " " + value.unit

    Text {
        id: figure
        text: row.value.figure
        font.family: Theme.family
        font.pixelSize: row.size
        font.bold: row.strong
        color: Theme.ink
    }
    Text {
        y: figure.baselineOffset - baselineOffset
        width: row.lightWidth >= 0 ? row.lightWidth : implicitWidth
        text: row.value.doubt === "" ? row.value.unit : row.value.doubt + " " + row.value.unit
        font.family: Theme.family
        font.pixelSize: row.lightSize
        color: Theme.ink2
    }
}
