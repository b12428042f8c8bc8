import QtQuick
import QtQuick.Layouts
import Swardwalk

// One patch's life.
Frame {
    id: page

    required property PatchModel model

    railWants: answer.wants

    component LifeTable: Card {
        id: table

        required property string what
        required property string amount
        required property var lines
        required property string none

        implicitHeight: tableColumn.implicitHeight + 2 * Theme.between

        ColumnLayout {
            id: tableColumn
            x: Theme.between
            y: 12
            width: parent.width - 2 * Theme.between
            spacing: 0
            RowLayout {
                Layout.bottomMargin: 6
                Words {
                    Layout.fillWidth: true
                    second: true
                    text: table.what
                }
                Words {
                    second: true
                    text: table.amount
                }
            }
            Rule { Layout.fillWidth: true }
            Words {
                visible: repeater.count === 0
                Layout.topMargin: 10
                Layout.fillWidth: true
                second: true
                text: table.none
            }
            Repeater {
                id: repeater
                model: table.lines
                Item {
                    id: lifeRow
                    required property string date
                    required property string who
                    required property string what
                    required property writtenText amount
                    required property int index
                    Layout.fillWidth: true
                    implicitHeight: Math.max(48, words.implicitHeight + 16)
                    Words {
                        anchors.verticalCenter: parent.verticalCenter
                        text: lifeRow.date
                        wrapMode: Text.NoWrap
                    }
                    Words {
                        id: words
                        x: 140
                        width: parent.width - x - amount.width - 8
                        anchors.verticalCenter: parent.verticalCenter
                        second: lifeRow.what.length > 12
                        text: lifeRow.who === "" ? lifeRow.what
                                                 : lifeRow.what + ", " + lifeRow.who
                    }
                    Figure {
                        id: amount
                        anchors.right: parent.right
                        anchors.verticalCenter: parent.verticalCenter
                        value: lifeRow.amount
                    }
                    Rule {
                        anchors.bottom: parent.bottom
                        width: parent.width
                        visible: lifeRow.index < repeater.count - 1
                    }
                }
            }
        }
    }

    Flickable {
        id: flick
        anchors.fill: parent
        contentHeight: column.implicitHeight + 2 * Theme.between
        boundsBehavior: Flickable.StopAtBounds
        interactive: contentHeight > height

        ColumnLayout {
            id: column
            x: Theme.around
            y: Theme.between
            width: parent.width - 2 * Theme.around
            spacing: 12

            RowLayout {
                Layout.fillWidth: true
                spacing: Theme.between
                Symbol {
                    look: page.model.show.look
                    symbolSize: 44
                }
                ColumnLayout {
                    Layout.fillWidth: true
                    spacing: 0
                    Words {
                        second: true
                        strong: true
                        color: Theme.ink
                        text: page.model.show.title
                    }
                    Heading {
                        Layout.fillWidth: true
                        answer: true
                        color: Theme.weights[page.model.show.weight]
                        text: page.model.show.answer
                    }
                    RowLayout {
                        Layout.fillWidth: true
                        spacing: 12
                        Figure {
                            visible: page.model.show.area.figure !== ""
                            value: page.model.show.area
                            strong: true
                        }
                        Words {
                            visible: text !== ""
                            strong: true
                            text: page.model.show.closed
                        }
                        Words {
                            Layout.fillWidth: true
                            second: true
                            text: page.model.show.why
                        }
                    }
                }
            }
            Card {
                Layout.fillWidth: true
                visible: page.model.show.chart !== ""
                implicitHeight: chart.height + 24
                Image {
                    id: chart
                    x: 12
                    y: 12
                    width: parent.width - 24
                    // Its height follows from its width.
                    sourceSize.width: width
                    source: page.model.show.chart
                    Accessible.role: Accessible.Graphic
                    Accessible.name: qsTr("Area over time, and when it closes")
                }
            }
            Flow {
                Layout.fillWidth: true
                visible: photoList.count > 0
                spacing: Theme.inside
                Repeater {
                    id: photoList
                    model: page.model.photos
                    PhotoCard {
                        width: 220
                        onOpened: large.show(address, text)
                    }
                }
            }
            GridLayout {
                columns: page.portrait ? 1 : 2
                columnSpacing: Theme.between
                rowSpacing: Theme.between
                LifeTable {
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    Layout.alignment: Qt.AlignTop
                    what: qsTr("Sightings")
                    amount: qsTr("area")
                    lines: page.model.sightings
                    none: qsTr("None yet.")
                }
                LifeTable {
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    Layout.alignment: Qt.AlignTop
                    what: qsTr("Repairs")
                    amount: qsTr("amount")
                    lines: page.model.repairs
                    none: qsTr("Nothing was done here yet.")
                }
            }
        }
    }

    PhotoView {
        id: large
        anchors.fill: parent
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        RowLayout {
            spacing: Theme.inside
            PlainButton {
                implicitHeight: Theme.target
                text: qsTr("All patches")
                onClicked: page.model.leave()
            }
            PlainButton {
                objectName: "addPhoto"
                implicitHeight: Theme.target
                text: qsTr("Add a photo")
                onClicked: page.model.addPhoto()
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.saved.title !== ""
            title: page.model.show.saved.title
            reason: page.model.show.saved.reason
            weight: page.model.show.saved.weight
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.todo.title !== ""
            title: page.model.show.todo.title
            reason: page.model.show.todo.reason
            weight: page.model.show.todo.weight
        }
        ColumnLayout {
            visible: page.model.show.joined !== ""
            spacing: Theme.inside
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.joined
            }
            PlainButton {
                objectName: "takeApart"
                text: qsTr("They are two")
                onClicked: page.model.takeApart()
            }
        }
        Card {
            Layout.fillWidth: true
            visible: !page.portrait
            implicitHeight: 190
            clip: true
            PlanPane {
                anchors.fill: parent
                anchors.margins: 1.5
                margin: 14
                movable: false
                source: page.model.plan
            }
        }

        actions: [
            RowLayout {
                visible: page.model.show.open
                Layout.fillWidth: true
                spacing: Theme.inside
                PlainButton {
                    objectName: "itIsClosed"
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    text: qsTr("It is closed")
                    onClicked: page.model.itIsClosed()
                }
                PlainButton {
                    visible: page.model.show.sown
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    text: qsTr("Came up")
                    onClicked: page.model.cameUp()
                }
            },
            RowLayout {
                spacing: Theme.inside
                PlainButton {
                    objectName: "chooseRepair"
                    visible: page.model.show.open
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    text: qsTr("Choose")
                    onClicked: page.model.choose()
                }
                PlainButton {
                    objectName: "repairDone"
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    text: qsTr("Repair done")
                    onClicked: page.model.repairDone()
                }
            },
            BigAction {
                objectName: "measureAgain"
                Layout.fillWidth: true
                text: qsTr("Measure again")
                onClicked: page.model.measureAgain()
            }
        ]
    }
}
