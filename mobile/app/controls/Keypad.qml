import QtQuick
import QtQuick.Layouts
import QtQuick.Templates as T
import Swardwalk

// Keys for one number, and for the one after it. Lies over the page it serves.
Rectangle {
    id: keypad

    property NumberField field: null
    property NumberField after: null

    function open(field: NumberField, after: NumberField) {
        keypad.field = field;
        keypad.after = after;
        field.beginKeys();
    }
    function close() {
        keypad.field = null;
        keypad.after = null;
    }
    function accept() {
        keypad.field.acceptKeys();
        if (keypad.after !== null)
            keypad.open(keypad.after, null);
        else
            keypad.close();
    }

    visible: field !== null
    color: Theme.ground

    // Nothing below is touched by accident.
    MouseArea { anchors.fill: parent }

    ColumnLayout {
        width: Math.min(parent.width - 2 * Theme.around, 560)
        height: Math.min(parent.height - 2 * Theme.between, 720)
        anchors.horizontalCenter: parent.horizontalCenter
        y: Theme.between
        spacing: Theme.inside

        Rectangle {
            Layout.fillWidth: true
            implicitHeight: 100
            radius: Theme.corner
            color: Theme.paper
            border.width: 3
            border.color: Theme.ink

            Words {
                x: Theme.between
                y: 8
                second: true
                strong: true
                color: Theme.ink
                text: keypad.field !== null ? keypad.field.label : ""
            }
            Row {
                x: Theme.between
                y: 32
                spacing: 8
                Text {
                    text: keypad.field === null ? "" : keypad.field.typed !== "" ? keypad.field.typed
                        : keypad.field.known ? keypad.field.figure : "–"
                    font.family: Theme.family
                    font.pixelSize: 44
                    font.bold: true
                    color: keypad.field !== null && keypad.field.typed !== "" ? Theme.ink : Theme.ink2
                }
                Rectangle {
                    y: 6
                    width: 3
                    height: 44
                    color: Theme.action
                }
                Text {
                    y: 18
                    text: keypad.field !== null ? keypad.field.unit : ""
                    font.family: Theme.family
                    font.pixelSize: Theme.headingSize
                    color: Theme.ink2
                }
            }
        }

        GridLayout {
            Layout.fillWidth: true
            Layout.fillHeight: true
            columns: 3
            rowSpacing: Theme.inside
            columnSpacing: Theme.inside

            Repeater {
                model: ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", qsTr("Rub out")]

                T.AbstractButton {
                    id: key

                    required property string modelData
                    required property int index

                    Layout.fillWidth: true
                    Layout.fillHeight: true
                    Layout.preferredWidth: 1
                    Layout.maximumHeight: 96
                    Layout.minimumHeight: 64
                    text: modelData
                    enabled: modelData !== "." || (keypad.field !== null && keypad.field.decimal)
                    Accessible.role: Accessible.Button
                    Accessible.name: modelData
                    Accessible.onPressAction: key.clicked()
                    onClicked: {
                        if (index === 11)
                            keypad.field.rubOut();
                        else
                            keypad.field.press(modelData);
                    }

                    background: Rectangle {
                        radius: Theme.corner
                        color: key.down ? Theme.ground : Theme.paper
                        border.width: 1.5
                        border.color: key.enabled ? Theme.ink : Theme.line
                    }
                    contentItem: Text {
                        text: key.text
                        font.family: Theme.family
                        font.pixelSize: key.index === 11 ? Theme.bodySize : Theme.answerSize
                        font.bold: key.index !== 11
                        color: key.enabled ? Theme.ink : Theme.ink2
                        horizontalAlignment: Text.AlignHCenter
                        verticalAlignment: Text.AlignVCenter
                    }
                }
            }
        }

        RowLayout {
            Layout.fillWidth: true
            spacing: Theme.inside

            PlainButton {
                text: qsTr("Back")
                implicitHeight: Theme.bigAction
                implicitWidth: 140
                onClicked: keypad.close()
            }
            BigAction {
                Layout.fillWidth: true
                text: keypad.after !== null ? qsTr("Next: %1").arg(keypad.after.label.toLowerCase())
                                            : qsTr("Take it")
                onClicked: keypad.accept()
            }
        }
    }
}
