import QtQuick

// Makes a page when it is first shown and keeps it: changes of page are instant.
Loader {
    id: loader

    property bool opened: false

    active: opened
    onVisibleChanged: if (visible) opened = true
    Component.onCompleted: if (visible) opened = true
}
