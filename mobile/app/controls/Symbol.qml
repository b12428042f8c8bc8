import QtQuick
import Swardwalk

// A patch's symbol in a box that leaves room for its rings.
SymbolItem {
    symbolSize: 26
    width: symbolSize * 1.95
    height: symbolSize * 1.95
    dark: Theme.dark
    Accessible.ignored: true
}
