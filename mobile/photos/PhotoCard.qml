import QtQuick
import QtQuick.Templates as T
import Swardwalk

// One photo of a patch in its list; where another tablet has it, the words say so.
T.AbstractButton {
    id: card

    objectName: "photoCard"
    required property string address
    required text
    signal opened()

    height: width * 0.75 + 44
    enabled: card.address !== ""
    Accessible.role: Accessible.Button
    Accessible.name: qsTr("Photo of %1").arg(card.text)
    Accessible.onPressAction: card.clicked()
    onClicked: card.opened()
    background: Rectangle {
        radius: Theme.corner
        color: card.down ? Theme.ground : Theme.paper
        border.width: 1.5
        border.color: Theme.line
    }
    contentItem: Item {
        Image {
            id: image
            x: 6
            y: 6
            width: parent.width - 12
            height: parent.height - 44
            visible: card.address !== ""
            asynchronous: true
            sourceSize.width: 320
            fillMode: Image.PreserveAspectCrop
            source: card.address
        }
        Words {
            visible: card.address === "" || image.status === Image.Error
            x: 12
            y: 6
            width: parent.width - 24
            height: image.height
            verticalAlignment: Text.AlignVCenter
            second: true
            text: card.address === "" ? qsTr("On the tablet that took it, and at the shed.")
                                      : qsTr("Cannot be read.")
        }
        Words {
            anchors.bottom: parent.bottom
            anchors.bottomMargin: 8
            x: 8
            width: parent.width - 16
            second: true
            wrapMode: Text.NoWrap
            elide: Text.ElideRight
            text: card.text
        }
    }
}
