import QtQuick
import Swardwalk

Text {
    property bool answer: false

    font.family: Theme.family
    font.pixelSize: answer ? Theme.answerSize : Theme.headingSize
    font.bold: true
    color: Theme.ink
    wrapMode: Text.WordWrap
    textFormat: Text.PlainText
    Accessible.role: Accessible.Heading
    Accessible.name: text
}
