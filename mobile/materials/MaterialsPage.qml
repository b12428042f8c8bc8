import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// Seed, sand, feed and turf, each with what is left of it.
Frame {
    id: page

    required property MaterialsModel model

    railWants: answer.wants

    RowList {
        objectName: "materialList"
        anchors.fill: parent
        anchors.leftMargin: Theme.around
        anchors.rightMargin: Theme.around
        model: page.model.rows
        footer: Item { height: Theme.around }
        delegate: Item {
            id: row

            required property int shelf
            required property bool heading
            required property string name
            required property string words
            required property string remaining

            width: ListView.view.width
            height: heading ? title.implicitHeight + Theme.between : material.implicitHeight

            ColumnLayout {
                id: title
                visible: row.heading
                width: parent.width
                y: Theme.inside
                spacing: 0
                RowLayout {
                    Heading {
                        Layout.fillWidth: true
                        text: row.name
                    }
                    PlainButton {
                        objectName: "add" + row.shelf
                        implicitHeight: Theme.target
                        text: qsTr("Enter")
                        Accessible.name: qsTr("Enter new: %1").arg(row.name)
                        onClicked: page.model.add(row.shelf)
                    }
                }
                Words {
                    second: true
                    visible: text !== ""
                    text: row.words
                }
            }
            T.AbstractButton {
                id: material
                visible: !row.heading
                width: parent.width
                implicitHeight: lines.implicitHeight + 20
                Accessible.role: Accessible.Button
                Accessible.name: row.name + ", " + row.words + ", " + row.remaining
                Accessible.onPressAction: material.clicked()
                onClicked: page.model.correct(row.shelf, row.name)
                background: Rectangle {
                    color: material.down ? Theme.ground : Theme.paper
                    border.width: 1
                    border.color: Theme.line
                }
                contentItem: Item {
                    Column {
                        id: lines
                        x: Theme.between
                        y: 10
                        width: parent.width - 2 * Theme.between
                        RowLayout {
                            width: parent.width
                            Words {
                                Layout.fillWidth: true
                                strong: true
                                text: row.name
                                wrapMode: Text.NoWrap
                                elide: Text.ElideRight
                            }
                            Words { text: row.remaining }
                        }
                        Words {
                            width: parent.width
                            second: true
                            text: row.words
                        }
                    }
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Words {
            Layout.fillWidth: true
            text: qsTr("Copy what the label says. The plan sows and spreads only what is entered here, and orders by what is left.")
        }
        Advice {
            Layout.fillWidth: true
            visible: reason !== ""
            title: qsTr("Count again")
            reason: page.model.notes
            weight: Show.Watch
        }

        actions: [
            PlainButton {
                objectName: "materialsBack"
                Layout.fillWidth: true
                implicitHeight: 64
                text: qsTr("Back to the repairs")
                onClicked: page.model.back()
            }
        ]
    }
}
