import QtQuick
import QtQuick.Templates as T
import Swardwalk

// A line of text to type. What is asked for stands in it until something does.
Card {
    id: entry

    property alias text: input.text
    property alias name: input.objectName
    required property string spoken
    property string wanted
    property int hints: Qt.ImhNone
    property int most: 120
    property bool locked: false

    signal edited(string text)

    implicitHeight: 56
    implicitWidth: 240
    loud: input.activeFocus

    T.TextField {
        id: input
        anchors.fill: parent
        leftPadding: Theme.between
        rightPadding: Theme.between
        verticalAlignment: TextInput.AlignVCenter
        font.family: Theme.family
        font.pixelSize: Theme.bodySize
        color: Theme.ink
        selectionColor: Theme.line
        inputMethodHints: entry.hints
        maximumLength: entry.most
        readOnly: entry.locked
        Accessible.name: entry.spoken
        onTextEdited: entry.edited(text)
        Words {
            visible: input.text === "" && entry.wanted !== ""
            x: Theme.between
            anchors.verticalCenter: parent.verticalCenter
            text: entry.wanted
            color: Theme.ink2
        }
    }
}
