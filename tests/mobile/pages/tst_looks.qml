import QtQuick
import QtTest
import Swardwalk

// Every page at both sizes and in both themes: nothing too small to touch, nothing
// without a name; and a picture of each, to be looked at.
PageTrial {
    id: looks

    name: "Looks"

    Binding {
        target: Theme
        property: "dark"
        value: looks.trial.shell !== null && looks.trial.shell.dark
    }

    function shapes_data(): var {
        return [
            { tag: "landscape-sun", wide: 1280, high: 800, dark: false },
            { tag: "landscape-dark", wide: 1280, high: 800, dark: true },
            { tag: "portrait-sun", wide: 800, high: 1280, dark: false },
            { tag: "portrait-dark", wide: 800, high: 1280, dark: true }
        ];
    }

    function look(page: string, tag: string) {
        wait(30);
        everyControl(pages, control => {
            verify(control.height >= 47.5, page + ": " + control.text + " is high enough");
            verify(control.width >= 47.5, page + ": " + control.text + " is wide enough");
            verify(control.Accessible.name !== "", page + ": a control has a name");
        });
        grabImage(pages).save(trial.pictures + "/" + page + "-" + tag + ".png");
    }

    function test_pages_data(): var { return shapes_data(); }
    function test_pages(shape: var) {
        width = shape.wide;
        height = shape.high;
        open(true);
        trial.shell.dark = shape.dark;
        trial.stand(-13, -1, 2.4);
        trial.walk.startRound();
        for (let i = 0; i < 60; ++i) {
            const column = Math.floor(i / 12);
            const along = column % 2 === 0 ? i % 12 : 11 - i % 12;
            trial.stand(-11 + column * 3.6, -6 + along * 1.1, 2.4);
        }
        trial.stand(4, 0, 2.4);
        look("walk", shape.tag);

        trial.walk.mark();
        trial.mark.chooseKind(Show.Dug);
        trial.mark.length.more();
        trial.mark.width.more();
        trial.mark.bareShare.more();
        look("mark", shape.tag);
        tap(search(find("lengthStepper"), item => item.sign === undefined && item.clicked !== undefined));
        tap(word("5"));
        look("keypad", shape.tag);
        tap(word("Back"));
        trial.mark.placeBetter();
        for (let i = 0; i < 20; ++i) {
            trial.wait(1);
            trial.stand(4, 0, 2.4);
        }
        look("place-stand", shape.tag);
        trial.place.chooseWay(PlaceModel.NewMark);
        trial.place.markName = "Drain lid";
        trial.place.act();
        trial.mark.placeBetter();
        trial.place.chooseWay(PlaceModel.Tapes);
        look("place-tapes", shape.tag);
        trial.place.chooseWay(PlaceModel.Correct);
        trial.place.chooseMark("Drain lid");
        look("place-correct", shape.tag);
        trial.place.chooseWay(PlaceModel.OwnPace);
        look("place-pace", shape.tag);
        trial.place.back();
        trial.mark.chooseWay(MarkModel.Paces);
        look("mark-paces", shape.tag);
        trial.mark.chooseWay(MarkModel.Tape);
        trial.mark.readDepths();
        for (const depth of [6, 9, 7]) {
            for (let i = 0; i < depth; ++i)
                trial.mark.depths.reading.more();
            trial.mark.depths.add();
        }
        look("depths", shape.tag);
        trial.mark.depths.back();
        trial.mark.drawOutline();
        for (let i = 0; i < 7; ++i)
            trial.draw.addCorner(4 + 1.4 * Math.cos(i * Math.PI / 4), 1.1 * Math.sin(i * Math.PI / 4), 0.12);
        look("draw", shape.tag);
        trial.draw.back();
        trial.mark.walkOutline();
        for (let i = 0; i < 26; ++i)
            trial.stand(4 + 1.1 * Math.cos(i * Math.PI / 16), 1.1 * Math.sin(i * Math.PI / 16), 2.4);
        look("outline", shape.tag);
        trial.outline.forget();

        trial.walk.countFrames();
        for (const bare of [12, 18, 9]) {
            for (let i = 0; i < bare; ++i)
                trial.frames.squaresBare.more();
            trial.frames.count();
        }
        look("frames", shape.tag);
        trial.frames.takeBack();
        trial.frames.takeBack();
        trial.frames.takeBack();
        trial.frames.back();

        trial.shell.openPage(Shell.Patches);
        look("patches", shape.tag);
        trial.patches.openPatch("p7");
        look("patch", shape.tag);
        trial.patch.repairDone();
        look("repair-form", shape.tag);
        trial.repairForm.back();
        trial.patch.choose();
        look("choice", shape.tag);
        trial.choice.back();
        trial.shell.openPage(Shell.Repairs);
        look("repairs", shape.tag);
        const list = find("repairList");
        list.positionViewAtEnd();
        look("repairs-end", shape.tag);
        list.positionViewAtBeginning();
        trial.repairs.openMaterials();
        look("materials", shape.tag);
        trial.materials.correct(Shelves.SeedLot, "Bent 26-4");
        look("material", shape.tag);
        trial.material.back();
        trial.materials.back();
        trial.repairs.act();
        look("repairs-one-done", shape.tag);
        trial.shell.openPage(Shell.Shed);
        look("shed", shape.tag);

        trial.stand(6.6, -2, 1.0);
        trial.walk.mark();
        trial.mark.chooseKind(Show.Bare);
        trial.mark.save();
        trial.patch.leave();
        trial.shell.openPage(Shell.Patches);
        waitForRendering(pages);
        const pair = search(pages, item => item.objectName === "sameLine");
        pair.clicked();
        look("same-patch", shape.tag);
        trial.patches.same.join();
        look("same-patch-joined", shape.tag);
        trial.patches.openPatch("p10");
        look("patch-joined", shape.tag);
    }

    function test_photos_data(): var { return shapes_data(); }
    function test_photos(shape: var) {
        width = shape.wide;
        height = shape.high;
        open(true);
        trial.shell.dark = shape.dark;
        trial.shell.openPage(Shell.Patches);
        trial.patches.openPatch("p7");
        trial.patch.addPhoto();
        look("photos-none", shape.tag);
        trial.takePictures(7);
        trial.photos.look();
        trial.photos.take(0);
        trial.photos.take(2);
        look("photos", shape.tag);
        trial.photos.back();
        look("patch-photos", shape.tag);
        const card = search(pages, item => item.objectName === "photoCard");
        card.clicked();
        look("photo", shape.tag);
    }

    function test_states_data(): var { return shapes_data(); }
    function test_states(shape: var) {
        width = shape.wide;
        height = shape.high;
        open(false);
        trial.shell.dark = shape.dark;
        look("first-start", shape.tag);
        trial.shell.openPage(Shell.Patches);
        look("no-patches", shape.tag);
        trial.shell.openPage(Shell.Repairs);
        look("no-repairs", shape.tag);
        trial.walk.walkGreen();
        for (let i = 0; i < 40; ++i)
            trial.stand(14 * Math.cos(i * Math.PI / 24), 10 * Math.sin(i * Math.PI / 24), 2.4);
        look("walk-a-green", shape.tag);
    }

    function test_noFix_data(): var { return shapes_data(); }
    function test_noFix(shape: var) {
        width = shape.wide;
        height = shape.high;
        open(true);
        trial.shell.dark = shape.dark;
        trial.shell.leftHanded = true;
        trial.stand(4, 0, 2.4);
        trial.wait(130);
        wait(1100);
        look("no-fix-left-handed", shape.tag);
        trial.walk.mark();
        look("mark-no-place", shape.tag);
    }
}
