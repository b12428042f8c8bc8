import QtQuick
import QtQuick.Layouts
import Swardwalk

// A number of a form: its name, and the steps below it.
ColumnLayout {
    id: part

    required property NumberField field

    signal keysWanted()

    Layout.fillWidth: true
    Layout.preferredWidth: 1
    Layout.alignment: Qt.AlignTop
    spacing: Theme.inside

    Words { text: part.field.label }
    Stepper {
        Layout.fillWidth: true
        field: part.field
        onKeysWanted: part.keysWanted()
    }
}
