import QtQuick
import Swardwalk

// Text in the app's font. `second` is the smaller, lighter line below an answer.
Text {
    property bool second: false
    property bool strong: false

    font.family: Theme.family
    font.pixelSize: second ? Theme.secondSize : Theme.bodySize
    font.bold: strong
    color: second ? Theme.ink2 : Theme.ink
    lineHeight: 1.12
    wrapMode: Text.WordWrap
    textFormat: Text.PlainText
}
