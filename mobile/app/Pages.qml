import QtQuick
import Swardwalk

// Everything inside the window; tests open it in a window of their own.
Item {
    id: pages

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

    readonly property bool portrait: height > width
    readonly property bool leftHanded: shell.leftHanded

    TopLine {
        id: topLine
        width: parent.width
        shell: pages.shell
        portrait: pages.portrait
        taskTitle: pages.shell.task === Shell.Mark ? pages.mark.show.title
                 : pages.shell.task === Shell.Place ? qsTr("Place of the patch")
                 : pages.shell.task === Shell.Outline ? pages.outline.show.title
                 : pages.shell.task === Shell.Draw ? qsTr("Draw the outline")
                 : pages.shell.task === Shell.Depths ? qsTr("Depths")
                 : pages.shell.task === Shell.Frames ? pages.frames.show.title
                 : pages.shell.task === Shell.Materials ? qsTr("Seed, sand, feed and turf")
                 : pages.shell.task === Shell.Material ? pages.material.show.title
                 : pages.shell.task === Shell.Photos ? pages.photos.title
                 : pages.shell.task === Shell.Choose ? pages.choice.show.title
                 : pages.shell.task === Shell.Repair ? pages.repairForm.show.title : ""
    }

    Item {
        anchors.top: topLine.bottom
        anchors.bottom: parent.bottom
        width: parent.width

        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.NoTask && pages.shell.page === Shell.Walk
            sourceComponent: WalkPage {
                model: pages.walk
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.NoTask && pages.shell.page === Shell.Patches
                     && !pages.patch.there
            sourceComponent: PatchesPage {
                model: pages.patches
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.NoTask && pages.shell.page === Shell.Patches
                     && pages.patch.there
            sourceComponent: PatchPage {
                model: pages.patch
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.NoTask && pages.shell.page === Shell.Repairs
            sourceComponent: RepairsPage {
                model: pages.repairs
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.NoTask && pages.shell.page === Shell.Shed
            sourceComponent: ShedPage {
                model: pages.shed
                shell: pages.shell
                where: pages.walk.whereabouts
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Mark
            sourceComponent: MarkPage {
                model: pages.mark
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Place
            sourceComponent: PlacePage {
                model: pages.place
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Outline
            sourceComponent: OutlinePage {
                model: pages.outline
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Draw
            sourceComponent: DrawPage {
                model: pages.draw
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Depths
            sourceComponent: DepthsPage {
                model: pages.mark.depths
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Frames
            sourceComponent: FramesPage {
                model: pages.frames
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Repair
            sourceComponent: RepairFormPage {
                model: pages.repairForm
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Choose
            sourceComponent: ChoicePage {
                model: pages.choice
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Photos
            sourceComponent: PhotoPage {
                model: pages.photos
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Materials
            sourceComponent: MaterialsPage {
                model: pages.materials
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
        PageLoader {
            anchors.fill: parent
            visible: pages.shell.task === Shell.Material
            sourceComponent: MaterialPage {
                model: pages.material
                portrait: pages.portrait
                leftHanded: pages.leftHanded
            }
        }
    }
}
