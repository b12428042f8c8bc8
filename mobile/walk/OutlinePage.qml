import QtQuick
import QtQuick.Layouts
import Swardwalk

// An outline while it is walked.
Frame {
    id: page

    required property OutlineModel model

    railWants: answer.wants

    component Reading: ColumnLayout {
        id: reading
        required property string what
        required property string value
        property bool last: false
        Layout.fillWidth: true
        spacing: 8
        RowLayout {
            Words {
                Layout.fillWidth: true
                text: reading.what
            }
            Words {
                wrapMode: Text.NoWrap
                text: reading.value
            }
        }
        Rule {
            visible: !reading.last
            Layout.fillWidth: true
        }
    }

    PlanPane {
        id: pane
        anchors.fill: parent
        margin: 24
        source: page.model.plan
    }
    Row {
        anchors.right: parent.right
        anchors.bottom: parent.bottom
        anchors.margins: Theme.between
        spacing: 11
        PlainButton {
            implicitHeight: Theme.target
            text: qsTr("Leave, keep as draft")
            onClicked: page.model.leave()
        }
        PlainButton {
            implicitHeight: Theme.target
            text: qsTr("Whole outline")
            onClicked: pane.wholeGreen()
        }
    }

    rail: Rail {
        id: answer
        portrait: page.portrait

        ColumnLayout {
            Layout.fillWidth: true
            spacing: 2
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.subject
            }
            Figure {
                visible: page.model.show.area.figure !== ""
                value: page.model.show.area
                size: Theme.answerSize
                lightSize: Theme.headingSize
                strong: true
            }
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.noArea
            }
        }
        Entry {
            visible: page.model.show.ofGreen
            Layout.fillWidth: true
            name: "greenName"
            spoken: qsTr("The green's name")
            wanted: spoken
            text: page.model.greenName
            onEdited: text => page.model.greenName = text
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.advice.title !== ""
            title: page.model.show.advice.title
            reason: page.model.show.advice.reason
            weight: page.model.show.advice.weight
        }
        PlainButton {
            Layout.fillWidth: true
            visible: page.model.show.offerTape
            text: qsTr("Use the tape")
            onClicked: page.model.useTape()
        }
        ColumnLayout {
            Layout.fillWidth: true
            spacing: 8
            Reading {
                what: qsTr("Walked")
                value: page.model.show.walked
            }
            Reading {
                what: qsTr("Gap to start")
                value: page.model.show.gap
            }
            Reading {
                what: qsTr("Position")
                value: page.model.show.position
                last: true
            }
        }

        actions: [
            Words {
                Layout.fillWidth: true
                second: true
                text: page.model.show.line
            },
            RowLayout {
                Layout.fillWidth: true
                spacing: Theme.inside
                PlainButton {
                    objectName: "pauseButton"
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    text: page.model.show.paused ? qsTr("Go on") : qsTr("Pause")
                    onClicked: page.model.pause()
                }
                PlainButton {
                    Layout.fillWidth: true
                    Layout.preferredWidth: 1
                    implicitHeight: 64
                    enabled: page.model.show.canStepBack
                    text: qsTr("Back a step")
                    onClicked: page.model.stepBack()
                }
            },
            BigAction {
                objectName: "closeOutline"
                Layout.fillWidth: true
                enabled: page.model.show.canClose
                text: page.model.show.ofGreen ? qsTr("Save the green") : qsTr("Close outline")
                onClicked: page.model.closeOutline()
            }
        ]
    }
}
