import QtQuick
import QtQuick.Window
import Swardwalk

// The journal can't be opened: what happened, what is safe, what to do.
Window {
    id: window

    required property adviceText failure

    title: qsTr("Swardwalk")
    visible: true
    color: Theme.ground

    StateCard {
        anchors.centerIn: parent
        width: Math.min(parent.width - 2 * Theme.around, 560)
        overline: qsTr("The journal stays shut")
        title: window.failure.title
        body: window.failure.reason
        advice: qsTr("Nothing in it was changed, and it can be copied whole.")
        weight: Show.Stop
        action: qsTr("Quit")
        onActionWanted: Qt.quit()
    }
}
