import QtQuick
import QtQuick.Templates as T
import Swardwalk

// The four pages in words, and what one has to know of the tablet. Inside a task the
// task's name stands in place of the pages.
Rectangle {
    id: line

    required property Shell shell
    required property bool portrait
    property string taskTitle

    readonly property bool inTask: shell.task !== Shell.NoTask

    implicitHeight: portrait ? 102 : 60
    color: Theme.paper

    component PageWord: T.AbstractButton {
        id: word

        required property int page
        readonly property bool current: line.shell.page === page

        height: 60
        width: label.implicitWidth + 32
        Accessible.role: Accessible.PageTab
        Accessible.name: text
        Accessible.selected: current
        Accessible.onPressAction: word.clicked()
        onClicked: line.shell.openPage(page)

        contentItem: Text {
            id: label
            text: word.text
            font.family: Theme.family
            font.pixelSize: Theme.bodySize
            font.bold: word.current
            color: word.current ? Theme.ink : Theme.ink2
            horizontalAlignment: Text.AlignHCenter
            verticalAlignment: Text.AlignVCenter
        }
        Rectangle {
            visible: word.current
            anchors.bottom: parent.bottom
            anchors.bottomMargin: 1
            width: parent.width
            height: 4
            color: Theme.ink
        }
    }

    Row {
        x: 8
        visible: !line.inTask
        PageWord { text: qsTr("Walk"); page: Shell.Walk }
        PageWord { text: qsTr("Patches"); page: Shell.Patches }
        PageWord { text: qsTr("Repairs"); page: Shell.Repairs }
        PageWord { text: qsTr("Shed"); page: Shell.Shed }
    }
    Heading {
        visible: line.inTask
        x: Theme.around
        height: 60
        width: parent.width - x - (line.portrait ? clock.width : status.width) - 2 * Theme.around
        verticalAlignment: Text.AlignVCenter
        wrapMode: Text.NoWrap
        elide: Text.ElideRight
        text: line.taskTitle
    }
    Row {
        id: status
        anchors.right: parent.right
        anchors.rightMargin: Theme.around
        height: 60
        spacing: Theme.around
        Words {
            id: clock
            second: true
            strong: true
            color: Theme.ink
            height: 58
            verticalAlignment: Text.AlignVCenter
            text: line.shell.now
        }
        Words {
            visible: !line.portrait
            second: true
            height: 58
            verticalAlignment: Text.AlignVCenter
            text: line.shell.network
        }
        Words {
            visible: !line.portrait && text !== ""
            second: true
            color: Theme.watch
            height: 58
            verticalAlignment: Text.AlignVCenter
            text: line.shell.onlyHere
        }
    }
    Rectangle {
        y: 58
        width: parent.width
        height: 2
        color: Theme.ink
    }
    Item {
        visible: line.portrait
        y: 60
        width: parent.width
        height: 42
        Words {
            second: true
            x: Theme.around
            height: 40
            verticalAlignment: Text.AlignVCenter
            text: line.shell.network
        }
        Words {
            second: true
            color: Theme.watch
            anchors.right: parent.right
            anchors.rightMargin: Theme.around
            height: 40
            verticalAlignment: Text.AlignVCenter
            text: line.shell.onlyHere
        }
        Rule {
            y: 40
            width: parent.width
        }
    }
}
