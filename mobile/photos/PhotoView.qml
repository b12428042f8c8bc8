import QtQuick
import Swardwalk

// A photo as large as the page allows.
Rectangle {
    id: view

    property string words: ""

    function show(address: string, said: string) {
        view.words = said;
        image.source = address;
        view.visible = true;
    }

    visible: false
    color: Theme.ground
    MouseArea { anchors.fill: parent }
    Image {
        id: image
        anchors.fill: parent
        anchors.margins: Theme.between
        anchors.bottomMargin: 84
        asynchronous: true
        fillMode: Image.PreserveAspectFit
        Accessible.role: Accessible.Graphic
        Accessible.name: qsTr("Photo of %1").arg(view.words)
    }
    Words {
        objectName: "photoWords"
        x: Theme.around
        anchors.verticalCenter: close.verticalCenter
        width: parent.width - close.width - 3 * Theme.around
        text: view.words
    }
    PlainButton {
        id: close
        objectName: "closePhoto"
        anchors.right: parent.right
        anchors.bottom: parent.bottom
        anchors.margins: Theme.between
        text: qsTr("Back")
        onClicked: {
            view.visible = false;
            image.source = "";
        }
    }
}
