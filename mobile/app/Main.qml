import QtQuick
import QtQuick.Window
import Swardwalk

// The window: the top line, one page or one task.
Window {
    id: window

    required property Shell shell
    required property WalkModel walk
    required property MarkModel mark
    required property PlaceModel place
    required property OutlineModel outline
    required property DrawModel draw
    required property FramesModel frames
    required property PatchesModel patches
    required property PatchModel patch
    required property RepairsModel repairs
    required property RepairForm repairForm
    required property ChoiceModel choice
    required property MaterialsModel materials
    required property MaterialForm material
    required property PhotoModel photos
    required property ShedModel shed

    title: qsTr("Swardwalk")
    visible: true
    color: Theme.ground

    Binding {
        target: Theme
        property: "dark"
        value: window.shell.dark
    }

    Pages {
        anchors.fill: parent
        shell: window.shell
        walk: window.walk
        mark: window.mark
        place: window.place
        outline: window.outline
        draw: window.draw
        frames: window.frames
        patches: window.patches
        patch: window.patch
        repairs: window.repairs
        repairForm: window.repairForm
        choice: window.choice
        materials: window.materials
        material: window.material
        photos: window.photos
        shed: window.shed
    }
}
