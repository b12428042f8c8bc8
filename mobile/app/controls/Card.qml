import QtQuick
import Swardwalk

Rectangle {
    property bool loud: false

    radius: Theme.corner
    color: Theme.paper
    border.width: loud ? 2 : 1.5
    border.color: loud ? Theme.ink : Theme.line
}
