import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// Pictures that the tablet's camera took, to be taken to one patch.
Frame {
    id: page

    required property PhotoModel model

    railWants: answer.wants

    GridView {
        id: grid
        objectName: "photoGrid"
        anchors.fill: parent
        anchors.margins: Theme.around
        clip: true
        boundsBehavior: Flickable.StopAtBounds
        cacheBuffer: 0  // as in RowList
        cellWidth: width / (page.portrait ? 3 : 4)
        cellHeight: cellWidth * 0.75 + 40
        model: page.model.pictures
        delegate: T.AbstractButton {
            id: picture

            required property int index
            required property string address
            required property string when
            required property bool taken

            width: grid.cellWidth - Theme.inside
            height: grid.cellHeight - Theme.inside
            text: picture.when
            enabled: !picture.taken
            Accessible.role: Accessible.Button
            Accessible.name: picture.taken ? qsTr("Picture of %1, taken").arg(picture.when)
                                           : qsTr("Take the picture of %1").arg(picture.when)
            Accessible.onPressAction: picture.clicked()
            onClicked: page.model.take(picture.index)
            background: Rectangle {
                radius: Theme.corner
                color: picture.down ? Theme.ground : Theme.paper
                border.width: picture.taken ? 3 : 1.5
                border.color: picture.taken ? Theme.ink : Theme.line
            }
            contentItem: Item {
                Image {
                    id: image
                    x: 6
                    y: 6
                    width: parent.width - 12
                    height: parent.height - 40
                    asynchronous: true
                    autoTransform: true
                    sourceSize.width: 320
                    fillMode: Image.PreserveAspectCrop
                    source: picture.address
                }
                Words {
                    anchors.centerIn: image
                    visible: image.status === Image.Error
                    second: true
                    text: qsTr("Cannot be read")
                }
                Words {
                    anchors.bottom: parent.bottom
                    anchors.bottomMargin: 6
                    x: 8
                    width: parent.width - 16
                    second: true
                    strong: picture.taken
                    wrapMode: Text.NoWrap
                    elide: Text.ElideRight
                    text: picture.taken ? qsTr("Taken") : picture.when
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Words {
            objectName: "photoSecond"
            Layout.fillWidth: true
            second: true
            text: page.model.second
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.saved.title !== ""
            title: page.model.saved.title
            reason: page.model.saved.reason
            weight: page.model.saved.weight
        }
        PlainButton {
            visible: page.model.canTakeBack
            text: qsTr("Undo")
            onClicked: page.model.takeBack()
        }

        actions: [
            PlainButton {
                objectName: "lookAgain"
                Layout.fillWidth: true
                text: qsTr("Look again")
                onClicked: page.model.look()
            },
            BigAction {
                objectName: "photosDone"
                Layout.fillWidth: true
                text: qsTr("Done")
                onClicked: page.model.back()
            }
        ]
    }
}
