import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// What can be done with a patch: a person picks, and says who does it and why.
Frame {
    id: page

    required property ChoiceModel model

    railWants: answer.wants

    component OptionCard: T.AbstractButton {
        id: card

        required property int index
        required property string title
        required property string lines
        required property string mark
        required property bool possible
        required property bool picked
        required property string spoken

        Layout.fillWidth: true
        Layout.fillHeight: true
        Layout.preferredWidth: 1
        implicitHeight: words.implicitHeight + 2 * Theme.between
        enabled: possible
        Accessible.role: Accessible.RadioButton
        Accessible.name: spoken
        Accessible.checked: picked
        Accessible.onPressAction: card.clicked()
        onClicked: page.model.pick(index)

        background: Rectangle {
            radius: Theme.corner
            color: card.possible ? Theme.paper : Theme.ground
            border.width: card.picked ? 3 : 1.5
            border.color: card.picked ? Theme.ink : Theme.line
        }
        contentItem: Item {
            Column {
                id: words
                x: Theme.between
                y: Theme.between
                width: card.width - 2 * Theme.between
                spacing: 2
                Words {
                    width: parent.width
                    strong: true
                    color: card.possible ? Theme.ink : Theme.ink2
                    text: card.title
                }
                Words {
                    width: parent.width
                    second: true
                    visible: text !== ""
                    text: card.mark
                }
                Words {
                    width: parent.width
                    second: !card.possible
                    text: card.lines
                }
            }
        }
    }

    Flickable {
        anchors.fill: parent
        contentHeight: form.implicitHeight + 2 * Theme.between
        interactive: contentHeight > height
        boundsBehavior: Flickable.StopAtBounds

        ColumnLayout {
            id: form
            x: Theme.around
            y: Theme.between
            width: parent.width - 2 * Theme.around
            spacing: Theme.between

            GridLayout {
                Layout.fillWidth: true
                columns: page.width > 700 ? 3 : 2
                columnSpacing: Theme.inside
                rowSpacing: Theme.inside
                Repeater {
                    model: page.model.cards
                    OptionCard { objectName: "card" + index }
                }
            }
            Words { text: qsTr("Who does it") }
            Flow {
                Layout.fillWidth: true
                spacing: Theme.inside
                Repeater {
                    model: page.model.show.names
                    PlainButton {
                        required property string modelData
                        implicitHeight: Theme.target
                        quiet: true
                        chosen: modelData === page.model.who
                        text: modelData
                        onClicked: page.model.toggleWho(modelData)
                    }
                }
            }
            Entry {
                Layout.fillWidth: true
                name: "who"
                spoken: qsTr("Who does it")
                wanted: qsTr("Somebody else")
                text: page.model.who
                onEdited: text => page.model.who = text
            }
            Words { text: qsTr("Why") }
            Entry {
                Layout.fillWidth: true
                name: "why"
                spoken: qsTr("Why")
                wanted: qsTr("What the plan cannot know")
                most: 400
                text: page.model.why
                onEdited: text => page.model.why = text
            }
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        Subject {
            Layout.fillWidth: true
            look: page.model.show.look
            overline: qsTr("In the plan, %1").arg(page.model.show.by)
            title: page.model.show.planned
        }
        Words {
            Layout.fillWidth: true
            second: true
            visible: text !== ""
            text: page.model.show.reason
        }
        Rule { Layout.fillWidth: true }
        Words {
            objectName: "choiceSummary"
            Layout.fillWidth: true
            text: page.model.show.summary
        }
        Advice {
            Layout.fillWidth: true
            visible: title !== ""
            title: page.model.show.trouble.title
            reason: page.model.show.trouble.reason
            weight: Show.Stop
        }

        actions: [
            PlainButton {
                objectName: "followPlan"
                Layout.fillWidth: true
                visible: page.model.show.canFollow
                text: qsTr("Follow the plan again")
                onClicked: page.model.followPlan()
            },
            PlainButton {
                Layout.fillWidth: true
                text: qsTr("Back, save nothing")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "saveChoice"
                Layout.fillWidth: true
                enabled: page.model.show.canSave
                text: qsTr("Save the choice")
                onClicked: page.model.save()
            }
        ]
    }
}
