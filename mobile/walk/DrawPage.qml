import QtQuick
import QtQuick.Layouts
import Swardwalk

// An outline that a finger draws on the plan, corner by corner.
Frame {
    id: page

    required property DrawModel model

    railWants: answer.wants

    PlanPane {
        id: pane
        objectName: "drawPlan"
        anchors.fill: parent
        margin: 24
        placesOnly: true
        source: page.model.plan
        onPlaceTapped: (east, north, doubt) => page.model.addCorner(east, north, doubt)
    }
    PlainButton {
        anchors.right: parent.right
        anchors.bottom: parent.bottom
        anchors.margins: Theme.between
        implicitHeight: Theme.target
        text: qsTr("As at first")
        Accessible.name: qsTr("Show the plan as at first")
        onClicked: pane.wholeGreen()
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
                objectName: "drawSecond"
                Layout.fillWidth: true
                second: true
                text: page.model.show.second
            }
        }
        Advice {
            Layout.fillWidth: true
            visible: page.model.show.advice.title !== ""
            title: page.model.show.advice.title
            reason: page.model.show.advice.reason
            weight: page.model.show.advice.weight
        }

        actions: [
            PlainButton {
                objectName: "cornerBack"
                Layout.fillWidth: true
                enabled: page.model.show.canStepBack
                text: qsTr("Back a corner")
                onClicked: page.model.stepBack()
            },
            PlainButton {
                Layout.fillWidth: true
                text: qsTr("Back to the sighting")
                onClicked: page.model.back()
            },
            BigAction {
                objectName: "saveDrawing"
                Layout.fillWidth: true
                enabled: page.model.show.canSave
                text: qsTr("Save")
                onClicked: page.model.save()
            }
        ]
    }
}
