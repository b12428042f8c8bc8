import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// Today's repairs, green by green, with a box to tick.
Frame {
    id: page

    required property RepairsModel model

    railWants: answer.wants

    // One amount: the figure right-aligned, doubt and unit after it in a fixed width.
    component Amount: Item {
        id: amount
        required property writtenText value
        property real light: 124
        implicitHeight: 30
        Figure {
            anchors.right: parent.right
            anchors.verticalCenter: parent.verticalCenter
            value: amount.value
            visible: amount.value.figure !== ""
            lightWidth: amount.light
        }
    }

    StateCard {
        visible: page.model.empty
        anchors.centerIn: parent
        width: Math.min(parent.width - 2 * Theme.around, 440)
        overline: qsTr("Nothing to do")
        title: qsTr("Nothing to mend today")
        body: qsTr("This page will list what to mend, with which seed, sand and feed.")
        advice: qsTr("Mark what is wrong on the walk, or meet the shed.")
        other: qsTr("Materials")
        onOtherWanted: page.model.openMaterials()
        action: qsTr("Walk")
        onActionWanted: page.model.walk()
    }

    RowList {
        id: list
        objectName: "repairList"
        visible: !page.model.empty
        anchors.fill: parent
        anchors.leftMargin: Theme.around
        anchors.rightMargin: Theme.around
        model: page.model.rows
        header: Item {
            width: list.width
            height: 56
            Heading {
                id: headline
                answer: true
                y: 12
                text: page.model.headline
            }
            Words {
                second: true
                anchors.right: parent.right
                anchors.left: headline.right
                anchors.leftMargin: Theme.between
                horizontalAlignment: Text.AlignRight
                y: 24
                text: page.model.second
                wrapMode: Text.NoWrap
                elide: Text.ElideRight
            }
        }
        footer: Item {
            width: list.width
            height: totals.implicitHeight + 40
            ColumnLayout {
                id: totals
                y: Theme.between
                width: parent.width
                spacing: 6
                Words {
                    strong: true
                    text: qsTr("All today")
                }
                Repeater {
                    model: page.model.totals
                    RowLayout {
                        id: total
                        required property string material
                        required property writtenText amount
                        required property string order
                        spacing: Theme.between
                        Words {
                            Layout.preferredWidth: 240
                            text: total.material
                            wrapMode: Text.NoWrap
                            elide: Text.ElideRight
                        }
                        Amount {
                            Layout.preferredWidth: 200
                            value: total.amount
                        }
                        Words {
                            Layout.fillWidth: true
                            second: true
                            text: total.order
                        }
                    }
                }
                PlainButton {
                    objectName: "openMaterials"
                    implicitHeight: Theme.target
                    text: qsTr("Seed, sand, feed and turf")
                    onClicked: page.model.openMaterials()
                }
                Words {
                    Layout.topMargin: Theme.between
                    visible: loads.count > 0
                    strong: true
                    text: qsTr("On the cart")
                }
                Repeater {
                    id: loads
                    model: page.model.loads
                    RowLayout {
                        id: load
                        required property string title
                        required property writtenText weight
                        required property string labels
                        spacing: Theme.between
                        Words {
                            Layout.preferredWidth: 240
                            text: load.title
                            wrapMode: Text.NoWrap
                            elide: Text.ElideRight
                        }
                        Amount {
                            Layout.preferredWidth: 200
                            value: load.weight
                        }
                        Words {
                            Layout.fillWidth: true
                            second: true
                            text: load.labels
                        }
                    }
                }
                Repeater {
                    model: page.model.hunger
                    ColumnLayout {
                        id: hunger
                        required property string title
                        required property string balance
                        required property string warning
                        required property string advice
                        Layout.topMargin: Theme.between
                        spacing: 2
                        Words {
                            strong: true
                            text: hunger.title
                        }
                        Words {
                            Layout.fillWidth: true
                            visible: text !== ""
                            text: hunger.balance
                        }
                        Words {
                            Layout.fillWidth: true
                            visible: text !== ""
                            color: Theme.watch
                            text: hunger.warning
                        }
                        Words {
                            Layout.fillWidth: true
                            visible: text !== ""
                            second: true
                            text: hunger.advice
                        }
                    }
                }
            }
        }
        delegate: Item {
            id: row

            required property int sort
            required property string id
            required property string title
            required property string choice
            required property string second
            required property symbolLook look
            required property writtenText fill
            required property writtenText turf
            required property writtenText seed
            required property writtenText feed
            required property bool chosen
            readonly property bool done: sort === RepairsModel.DoneToday

            width: ListView.view.width
            height: sort === RepairsModel.GreenHeading ? 44 : 64
            z: chosen ? 1 : 0

            RowLayout {
                visible: row.sort === RepairsModel.GreenHeading
                width: parent.width
                height: parent.height
                Words {
                    Layout.fillWidth: true
                    strong: true
                    text: row.title
                }
                Words { text: row.second }
            }

            Rectangle {
                visible: row.sort !== RepairsModel.GreenHeading
                anchors.fill: parent
                anchors.bottomMargin: -1
                color: Theme.paper
                border.width: row.chosen ? 2.5 : 1
                border.color: row.chosen ? Theme.ink : Theme.line
            }
            T.AbstractButton {
                id: rowButton
                visible: row.sort !== RepairsModel.GreenHeading
                anchors.fill: parent
                anchors.leftMargin: 60
                Accessible.role: Accessible.Button
                Accessible.name: row.title + ", " + row.choice
                Accessible.onPressAction: rowButton.clicked()
                onClicked: page.model.choose(row.id)
                contentItem: Item {
                    Symbol {
                        x: 2
                        anchors.verticalCenter: parent.verticalCenter
                        look: row.look
                        symbolSize: 26
                        width: 50
                        height: 50
                    }
                    Column {
                        x: 68
                        width: parent.width - x - (amounts.visible ? amounts.width : 0) - 12
                        anchors.verticalCenter: parent.verticalCenter
                        Row {
                            width: parent.width
                            spacing: 10
                            Words {
                                id: name
                                strong: true
                                color: row.done ? Theme.ink2 : Theme.ink
                                wrapMode: Text.NoWrap
                                text: row.title
                            }
                            Words {
                                width: parent.width - name.width - 10
                                wrapMode: Text.NoWrap
                                elide: Text.ElideRight
                                color: row.done ? Theme.ink2 : Theme.ink
                                text: row.choice
                            }
                        }
                        Words {
                            second: true
                            width: parent.width
                            wrapMode: Text.NoWrap
                            elide: Text.ElideRight
                            text: row.second
                        }
                    }
                    Row {
                        id: amounts
                        readonly property var second: row.turf.figure !== "" ? row.turf
                                                    : row.seed.figure !== "" ? row.seed : row.feed
                        visible: row.fill.figure !== "" || second.figure !== ""
                        anchors.right: parent.right
                        anchors.rightMargin: 8
                        anchors.verticalCenter: parent.verticalCenter
                        Amount {
                            width: 184
                            value: row.fill
                        }
                        Amount {
                            width: 196
                            value: amounts.second
                        }
                    }
                }
            }
            T.AbstractButton {
                id: tick
                objectName: "tick" + row.id
                visible: row.sort !== RepairsModel.GreenHeading
                width: 60
                height: parent.height
                Accessible.role: Accessible.CheckBox
                Accessible.name: qsTr("%1 done").arg(row.title)
                Accessible.checked: row.done
                Accessible.onPressAction: tick.clicked()
                onClicked: {
                    if (row.done)
                        page.model.choose(row.id);
                    else
                        page.model.doneAsPlanned(row.id);
                }
                contentItem: Item {
                    Rectangle {
                        anchors.centerIn: parent
                        width: 36
                        height: 36
                        radius: Theme.corner
                        color: row.done ? Theme.ink : Theme.paper
                        border.width: 2
                        border.color: Theme.ink
                        Canvas {
                            anchors.fill: parent
                            visible: row.done
                            property color ink: Theme.paper
                            onInkChanged: requestPaint()
                            onPaint: {
                                const to = getContext("2d");
                                to.reset();
                                to.strokeStyle = ink;
                                to.lineWidth = 3.5;
                                to.beginPath();
                                to.moveTo(9, 19);
                                to.lineTo(16, 26);
                                to.lineTo(27, 10);
                                to.stroke();
                            }
                        }
                    }
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Subject {
            Layout.fillWidth: true
            visible: page.model.next.there
            look: page.model.next.look
            overline: page.model.next.why
            title: page.model.next.title
            second: page.model.next.choice
        }
        ColumnLayout {
            Layout.fillWidth: true
            spacing: 8
            Repeater {
                id: needs
                model: page.model.amounts
                ColumnLayout {
                    id: need
                    required property string material
                    required property writtenText amount
                    required property int index
                    spacing: 8
                    RowLayout {
                        Words {
                            Layout.fillWidth: true
                            text: need.material
                        }
                        Figure { value: need.amount }
                    }
                    Rule {
                        Layout.fillWidth: true
                        visible: need.index < needs.count - 1
                    }
                }
            }
        }
        Words {
            Layout.fillWidth: true
            second: true
            visible: text !== ""
            text: page.model.next.reason
        }
        Advice {
            Layout.fillWidth: true
            visible: reason !== ""
            title: ""
            reason: page.model.next.warning
            weight: Show.Watch
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.saved.title !== ""
            title: page.model.saved.title
            reason: page.model.saved.reason
            weight: page.model.saved.weight
        }
        Item {
            Layout.fillWidth: true
            visible: cautions.count > 0 && page.model.next.there
            implicitHeight: careColumn.implicitHeight
            Rectangle {
                width: 6
                height: parent.height
                color: Theme.watch
            }
            Column {
                id: careColumn
                x: 18
                width: parent.width - 18
                spacing: 4
                Words {
                    strong: true
                    color: Theme.watch
                    text: qsTr("Take care")
                }
                Repeater {
                    id: cautions
                    model: page.model.cautions
                    Words {
                        required property string caution
                        width: careColumn.width
                        second: true
                        text: caution
                    }
                }
            }
        }

        actions: [
            PlainButton {
                objectName: "chooseOtherwise"
                Layout.fillWidth: true
                visible: page.model.next.there && !page.model.next.done
                text: qsTr("Choose otherwise")
                onClicked: page.model.chooseOtherwise()
            },
            PlainButton {
                Layout.fillWidth: true
                visible: page.model.next.there && !page.model.next.done
                text: page.model.next.canDo ? qsTr("Other amounts") : qsTr("Say what was done")
                onClicked: page.model.otherAmounts()
            },
            BigAction {
                objectName: "doneAsPlanned"
                Layout.fillWidth: true
                visible: page.model.next.there
                outlined: page.model.next.done
                enabled: page.model.next.done || page.model.next.canDo
                text: page.model.next.done ? qsTr("Not done after all") : qsTr("Done as planned")
                onClicked: page.model.act()
            }
        ]
    }
}
