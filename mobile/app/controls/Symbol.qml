import QtQuick
import Swardwalk

// A patch's symbol in a box that leaves room for its rings.
SymbolItem {
    symbolSize: 26
    implicitWidth: symbolSize * 1.95
    implicitHeight: symbolSize * 1.95
    dark: Theme.dark
    Accessible.ignored: true
}
