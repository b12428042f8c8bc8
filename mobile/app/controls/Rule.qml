import QtQuick
import Swardwalk

Rectangle {
    implicitHeight: 1.5
    color: Theme.line
}
