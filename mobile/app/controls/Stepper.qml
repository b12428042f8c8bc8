import QtQuick
import QtQuick.Templates as T
import Swardwalk

// A number by steps; a tap on the figure asks for keys.
Item {
    id: stepper

    required property NumberField field

    signal keysWanted()

    implicitHeight: 124
    implicitWidth: 320

    component Step: T.AbstractButton {
        id: step

        required property string sign

        width: 96
        height: stepper.height
        autoRepeat: true
        Accessible.role: Accessible.Button
        Accessible.onPressAction: step.clicked()

        background: Rectangle {
            radius: Theme.corner
            color: step.down ? Theme.ground : Theme.paper
            border.width: 1.5
            border.color: Theme.ink
        }
        contentItem: Column {
            topPadding: 26
            Text {
                anchors.horizontalCenter: parent.horizontalCenter
                text: step.sign
                font.family: Theme.family
                font.pixelSize: Theme.answerSize
                font.bold: true
                color: Theme.ink
            }
            Words {
                second: true
                anchors.horizontalCenter: parent.horizontalCenter
                text: stepper.field.stepText
            }
        }
    }

    Rectangle {
        anchors.fill: parent
        radius: Theme.corner
        color: Theme.paper
        border.width: 1.5
        border.color: Theme.line
    }

    T.AbstractButton {
        id: middle

        x: 96
        width: parent.width - 192
        height: parent.height
        Accessible.role: Accessible.Button
        Accessible.name: stepper.field.label + " " + stepper.field.figure + " " + stepper.field.unit
        Accessible.onPressAction: middle.clicked()
        onClicked: stepper.keysWanted()

        contentItem: Column {
            topPadding: 26
            Row {
                anchors.horizontalCenter: parent.horizontalCenter
                spacing: 8
                Text {
                    id: figure
                    text: stepper.field.figure
                    font.family: Theme.family
                    font.pixelSize: stepper.field.known ? Theme.answerSize : Theme.bodySize
                    font.bold: stepper.field.known
                    color: stepper.field.known ? Theme.ink : Theme.ink2
                    height: 38
                    verticalAlignment: Text.AlignBottom
                }
                Text {
                    visible: stepper.field.known
                    text: stepper.field.unit
                    font.family: Theme.family
                    font.pixelSize: Theme.headingSize
                    color: Theme.ink2
                    height: 36
                    verticalAlignment: Text.AlignBottom
                }
            }
            Words {
                second: true
                anchors.horizontalCenter: parent.horizontalCenter
                text: qsTr("tap for keys")
            }
        }
    }

    Step {
        sign: "–"
        Accessible.name: qsTr("%1 less").arg(stepper.field.label)
        onClicked: stepper.field.less()
    }
    Step {
        sign: "+"
        anchors.right: parent.right
        Accessible.name: qsTr("%1 more").arg(stepper.field.label)
        onClicked: stepper.field.more()
    }
}
