import QtQuick
import Swardwalk

// A plan with its north and scale, moved by one finger and zoomed by two.
Item {
    id: pane

    property alias source: plan.source
    property alias following: plan.following
    property alias margin: plan.margin
    property alias placesOnly: plan.placesOnly
    readonly property alias item: plan
    property bool movable: true

    signal patchTapped(string patch)
    signal placeTapped(real east, real north, real doubt)

    function wholeGreen() {
        plan.wholeGreen();
    }

    PlanItem {
        id: plan
        objectName: "plan"
        anchors.fill: parent
        dark: Theme.dark
        onPatchTapped: patch => pane.patchTapped(patch)
        onPlaceTapped: (east, north, doubt) => pane.placeTapped(east, north, doubt)
        Accessible.role: Accessible.Graphic
        Accessible.name: qsTr("Plan of the green")

        TapHandler {
            onTapped: eventPoint => plan.tap(eventPoint.position.x, eventPoint.position.y)
        }
        DragHandler {
            id: drag
            enabled: pane.movable
            target: null
            onActiveChanged: {
                if (active)
                    plan.dragBegins();
                else
                    plan.dragEnds();
            }
            onActiveTranslationChanged: {
                if (active)
                    plan.dragTo(activeTranslation.x, activeTranslation.y);
            }
        }
        PinchHandler {
            id: pinch
            enabled: pane.movable
            target: null
            onActiveChanged: {
                if (active)
                    plan.dragBegins();
                else
                    plan.dragEnds();
            }
            onActiveScaleChanged: {
                if (active)
                    plan.pinchTo(activeScale, centroid.position.x, centroid.position.y);
            }
        }
        WheelHandler {
            enabled: pane.movable
            target: null
            acceptedDevices: PointerDevice.Mouse | PointerDevice.TouchPad
            onWheel: event => plan.zoom(event.angleDelta.y > 0 ? 1.2 : 1 / 1.2, event.x, event.y)
        }
    }

    Column {
        visible: pane.movable
        x: 12
        y: 24
        spacing: 4
        Canvas {
            width: 20
            height: 26
            anchors.horizontalCenter: parent.horizontalCenter
            property color ink: Theme.ink
            onInkChanged: requestPaint()
            renderStrategy: Canvas.Immediate
            onPaint: {
                const to = getContext("2d");
                to.reset();
                to.fillStyle = ink;
                to.beginPath();
                to.moveTo(10, 0);
                to.lineTo(19, 25);
                to.lineTo(10, 19);
                to.lineTo(1, 25);
                to.closePath();
                to.fill();
            }
        }
        Words {
            second: true
            color: Theme.ink
            text: qsTr("North")
        }
    }
    Column {
        visible: pane.movable
        x: Theme.around
        anchors.bottom: parent.bottom
        anchors.bottomMargin: Theme.around
        spacing: 6
        Words {
            second: true
            color: Theme.ink
            anchors.horizontalCenter: parent.horizontalCenter
            text: plan.scaleText
        }
        Item {
            width: plan.scaleWidth
            height: 8
            Rectangle { width: 2; height: 8; color: Theme.ink }
            Rectangle { x: parent.width - 2; width: 2; height: 8; color: Theme.ink }
            Rectangle { y: 6; width: parent.width; height: 2; color: Theme.ink }
        }
    }
}
