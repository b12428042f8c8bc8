import QtQuick
import QtQuick.Layouts
import Swardwalk

// The usual filling of a rail: the answer on top, actions at the bottom; in portrait
// the answer left and the actions right.
GridLayout {
    id: rail

    required property bool portrait
    // In portrait: what all of it needs.
    readonly property real wants: Math.max(answerColumn.implicitHeight, actionColumn.implicitHeight)
                                  + 2 * Theme.between + 2
    default property alias answer: answerColumn.data
    property alias actions: actionColumn.data

    anchors.fill: parent
    anchors.margins: Theme.around
    anchors.topMargin: portrait ? Theme.between : Theme.around - 4
    anchors.bottomMargin: portrait ? Theme.between : Theme.around
    columns: portrait ? 2 : 1
    columnSpacing: Theme.around
    rowSpacing: Theme.between

    Flickable {
        id: flick
        Layout.fillWidth: true
        Layout.fillHeight: true
        clip: true
        contentHeight: answerColumn.implicitHeight
        contentWidth: width
        interactive: contentHeight > height
        boundsBehavior: Flickable.StopAtBounds

        ColumnLayout {
            id: answerColumn
            width: flick.width
            spacing: Theme.between
        }
        // What lies below the edge is told in words, not left to be guessed.
        Rectangle {
            parent: flick
            visible: flick.contentHeight - flick.contentY > flick.height + 8
            anchors.bottom: parent.bottom
            width: parent.width
            height: 30
            color: Theme.paper
            Rule { width: parent.width }
            Words {
                anchors.verticalCenter: parent.verticalCenter
                second: true
                text: qsTr("More below")
            }
        }
    }
    ColumnLayout {
        id: actionColumn
        Layout.fillWidth: !rail.portrait
        Layout.preferredWidth: rail.portrait ? 300 : -1
        Layout.alignment: Qt.AlignBottom
        spacing: Theme.between
    }
}
