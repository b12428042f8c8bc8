import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// All patches by green, late first.
Frame {
    id: page

    required property PatchesModel model
    readonly property sameShow same: model.same.show

    railWants: answer.wants

    StateCard {
        visible: page.model.empty
        anchors.centerIn: parent
        width: Math.min(parent.width - 2 * Theme.around, 440)
        overline: qsTr("Nothing marked")
        title: qsTr("No patches yet")
        body: qsTr("This page will list what is wrong, and whether it closes.")
        advice: qsTr("Mark the first one on the walk, or meet the shed.")
        action: qsTr("Walk")
        onActionWanted: page.model.showPlan()
    }

    ColumnLayout {
        anchors.fill: parent
        spacing: 0
        visible: !page.model.empty

        Flickable {
            Layout.fillWidth: true
            implicitHeight: 88
            contentWidth: filterRow.width + 2 * Theme.around
            interactive: contentWidth > width
            boundsBehavior: Flickable.StopAtBounds
            Row {
                id: filterRow
                x: Theme.around
                y: Theme.between
                spacing: 9
                Repeater {
                    model: page.model.filters
                    T.AbstractButton {
                        id: filter
                        required property int kind
                        required property string title
                        required property bool chosen
                        height: 56
                        width: content.implicitWidth + 2 * Theme.between
                        text: title
                        Accessible.role: Accessible.RadioButton
                        Accessible.name: title
                        Accessible.checked: chosen
                        Accessible.onPressAction: filter.clicked()
                        onClicked: page.model.filterBy(kind)
                        background: Rectangle {
                            radius: Theme.corner
                            color: Theme.paper
                            border.width: filter.chosen ? 3 : 1.5
                            border.color: filter.chosen ? Theme.ink : Theme.line
                        }
                        contentItem: Item {
                            Row {
                                id: content
                                anchors.centerIn: parent
                                spacing: 10
                                Symbol {
                                    visible: filter.kind !== Show.NoKind
                                    kind: filter.kind
                                    symbolSize: 26
                                    width: 34
                                    height: 34
                                    anchors.verticalCenter: parent.verticalCenter
                                }
                                Words {
                                    anchors.verticalCenter: parent.verticalCenter
                                    strong: filter.chosen
                                    text: filter.title
                                }
                            }
                        }
                    }
                }
            }
        }

        RowList {
            id: list
            objectName: "patchList"
            Layout.fillWidth: true
            Layout.fillHeight: true
            model: page.model.rows
            delegate: Item {
                id: row

                required property int sort
                required property string id
                required property string other
                required property string title
                required property string second
                required property symbolLook look
                required property string answer
                required property int weight
                required property writtenText area

                width: ListView.view.width
                height: sort === PatchesModel.GreenHeading ? 56
                      : sort === PatchesModel.LookNextLine ? lookNext.implicitHeight + 20
                      : sort === PatchesModel.SameLine ? sameWords.implicitHeight + 24
                      : sort === PatchesModel.ClosedLine ? 48 : 60

                Rectangle {
                    anchors.fill: parent
                    color: row.sort === PatchesModel.GreenHeading ? Theme.ground : Theme.paper
                }
                Rule {
                    anchors.bottom: parent.bottom
                    width: parent.width
                }

                // A green's heading.
                RowLayout {
                    visible: row.sort === PatchesModel.GreenHeading
                    x: Theme.around
                    width: parent.width - 2 * Theme.around
                    height: parent.height
                    spacing: Theme.between
                    Heading { text: row.title }
                    Words {
                        Layout.fillWidth: true
                        second: true
                        text: row.second
                        wrapMode: Text.NoWrap
                        elide: Text.ElideRight
                    }
                    Words {
                        strong: true
                        color: Theme.weights[row.weight]
                        text: row.answer
                    }
                }

                // What to measure first on that green.
                Words {
                    id: lookNext
                    visible: row.sort === PatchesModel.LookNextLine
                    x: Theme.around
                    width: parent.width - 2 * Theme.around
                    anchors.verticalCenter: parent.verticalCenter
                    second: true
                    text: row.sort === PatchesModel.LookNextLine ? row.second : ""
                }

                // Two that may be one.
                T.AbstractButton {
                    id: sameLine
                    objectName: visible ? "sameLine" : ""
                    visible: row.sort === PatchesModel.SameLine
                    anchors.fill: parent
                    Accessible.role: Accessible.Button
                    Accessible.name: row.title + ", " + row.second + ", " + row.answer
                    Accessible.onPressAction: sameLine.clicked()
                    onClicked: page.model.same.ask(row.id, row.other)
                    contentItem: Item {
                        Rectangle {
                            x: Theme.around
                            y: 10
                            width: 6
                            height: parent.height - 20
                            color: Theme.weights[Show.Watch]
                        }
                        Column {
                            id: sameWords
                            x: Theme.around + 18
                            width: parent.width - x - 120
                            anchors.verticalCenter: parent.verticalCenter
                            Words {
                                strong: true
                                width: parent.width
                                text: row.sort === PatchesModel.SameLine ? row.title : ""
                            }
                            Words {
                                second: true
                                width: parent.width
                                text: row.sort === PatchesModel.SameLine ? row.second : ""
                            }
                        }
                        Words {
                            anchors.right: parent.right
                            anchors.rightMargin: Theme.around
                            anchors.verticalCenter: parent.verticalCenter
                            second: true
                            font.underline: true
                            color: Theme.link
                            text: row.answer
                        }
                    }
                }

                // The closed ones in one line.
                T.AbstractButton {
                    id: closedLine
                    visible: row.sort === PatchesModel.ClosedLine
                    anchors.fill: parent
                    Accessible.role: Accessible.Button
                    Accessible.name: row.title + ", " + row.answer
                    Accessible.onPressAction: closedLine.clicked()
                    onClicked: page.model.showClosed(row.id)
                    contentItem: Item {
                        Words {
                            x: Theme.around
                            second: true
                            width: parent.width - 130
                            anchors.verticalCenter: parent.verticalCenter
                            wrapMode: Text.NoWrap
                            elide: Text.ElideRight
                            text: row.title
                        }
                        Words {
                            anchors.right: parent.right
                            anchors.rightMargin: Theme.around
                            anchors.verticalCenter: parent.verticalCenter
                            second: true
                            font.underline: true
                            color: Theme.link
                            text: row.answer
                        }
                    }
                }

                // A patch.
                T.AbstractButton {
                    id: patchRow
                    visible: row.sort === PatchesModel.PatchRow
                    anchors.fill: parent
                    Accessible.role: Accessible.Button
                    Accessible.name: row.title + ", " + row.second + ", " + row.answer
                    Accessible.onPressAction: patchRow.clicked()
                    onClicked: page.model.openPatch(row.id)
                    contentItem: Item {
                        Symbol {
                            x: Theme.around
                            anchors.verticalCenter: parent.verticalCenter
                            look: row.look
                            symbolSize: 26
                            width: 50
                            height: 50
                        }
                        Column {
                            x: 84
                            width: 180
                            anchors.verticalCenter: parent.verticalCenter
                            Words {
                                strong: true
                                width: parent.width
                                wrapMode: Text.NoWrap
                                elide: Text.ElideRight
                                text: row.title
                            }
                            Words {
                                second: true
                                width: parent.width
                                wrapMode: Text.NoWrap
                                elide: Text.ElideRight
                                text: row.second
                            }
                        }
                        Words {
                            x: 272
                            width: parent.width - 272 - 230
                            anchors.verticalCenter: parent.verticalCenter
                            strong: row.look.late
                            maximumLineCount: 2
                            elide: Text.ElideRight
                            color: Theme.weights[row.weight]
                            text: row.answer
                        }
                        Figure {
                            anchors.right: parent.right
                            anchors.rightMargin: Theme.around
                            anchors.verticalCenter: parent.verticalCenter
                            value: row.area
                            lightWidth: 92
                        }
                    }
                }
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Advice {
            Layout.fillWidth: true
            visible: page.same.saved.title !== ""
            title: page.same.saved.title
            reason: page.same.saved.reason
            weight: page.same.saved.weight
        }
        ColumnLayout {
            visible: page.same.asked
            spacing: Theme.inside
            Words {
                second: true
                text: qsTr("Same patch?")
            }
            Heading {
                Layout.fillWidth: true
                text: page.same.title
            }
            Words {
                Layout.fillWidth: true
                text: page.same.reason
            }
            Words {
                Layout.fillWidth: true
                visible: text !== ""
                second: true
                text: page.same.limits
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: page.same.change
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: !page.portrait && page.model.headline !== "" && !page.same.asked
            titleSize: Theme.headingSize
            title: page.model.headline
            reason: ""
            weight: page.model.headlineWeight
        }
        ColumnLayout {
            visible: !page.model.empty && !page.same.asked
            spacing: 2
            Words {
                text: qsTr("Open patches")
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.overview
            }
        }
        actions: [
            PlainButton {
                objectName: "leaveTwo"
                visible: page.same.asked
                Layout.fillWidth: true
                implicitHeight: 64
                text: qsTr("Leave them two")
                onClicked: page.model.same.leave()
            },
            PlainButton {
                objectName: "takeApart"
                visible: page.same.undoable
                Layout.fillWidth: true
                implicitHeight: 64
                text: qsTr("Take apart again")
                onClicked: page.model.same.takeBack()
            },
            BigAction {
                objectName: "joinPatches"
                visible: page.same.asked
                Layout.fillWidth: true
                implicitHeight: page.portrait ? 64 : Theme.bigAction
                text: qsTr("They are one patch")
                onClicked: page.model.same.join()
            },
            BigAction {
                Layout.fillWidth: true
                visible: !page.model.empty && !page.same.asked
                implicitHeight: page.portrait ? 64 : Theme.bigAction
                text: qsTr("Show on the plan")
                onClicked: page.model.showPlan()
            }
        ]
    }
}
