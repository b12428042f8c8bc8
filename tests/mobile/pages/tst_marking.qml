import QtQuick
import QtTest
import Swardwalk

PageTrial {
    name: "Marking"

    function test_threeTapsAreAWholeSighting() {
        open(true);
        trial.stand(4, 5, 2.4);
        const before = trial.count("sighting");
        tap(shown("markButton"));
        tap(shown("kindDug"));
        tap(shown("saveButton"));
        compare(trial.count("sighting"), before + 1);
        compare(trial.last("sighting", "kind"), "dug");
        compare(trial.last("sighting", "length_m"), "");
        compare(shown("savedLine").text, "Hollow 11 saved 06:40");
        const verdict = trial.serverVerdict(trial.last("sighting", "patch"));
        verify(verdict === "cannot say yet" || verdict === "no server", verdict);
    }

    function test_sizeByStepsAndByKeys() {
        open(true);
        trial.stand(4, 5, 2.4);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(search(find("lengthStepper"), item => item.sign === "+"));
        compare(trial.mark.length.figure, "0.52");
        tap(search(find("widthStepper"), item => item.sign === undefined && item.clicked !== undefined));
        for (const key of [".", "4", "4"])
            tap(word(key));
        tap(word("Take it"));
        compare(trial.mark.width.figure, "0.44");
        tap(shown("saveButton"));
        compare(trial.last("sighting", "length_m"), "0.52");
        compare(trial.last("sighting", "width_m"), "0.44");
    }

    function test_theBareShareOfAnOutlineIsEntered() {
        open(true);
        trial.stand(4, 5, 2.4);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(search(find("lengthStepper"), item => item.sign === "+"));
        tap(search(find("widthStepper"), item => item.sign === "+"));
        tap(shown("shareButton"));
        for (const key of ["4", "0"])
            tap(word(key));
        tap(word("Take it"));
        compare(find("shareButton").text, "40 % bare");
        tap(shown("saveButton"));
        compare(trial.last("sighting", "bare_share"), "0.4");
    }

    function test_backSavesNothing() {
        open(true);
        const before = trial.count("sighting");
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(word("Back, save nothing"));
        compare(trial.count("sighting"), before);
        verify(shown("markButton"));
    }

    function test_undoTakesItBack() {
        open(true);
        tap(shown("markButton"));
        tap(shown("kindWashed"));
        tap(shown("saveButton"));
        tap(word("Undo"));
        compare(trial.count("withdraw"), 1);
        compare(shown("savedLine").text, "Hollow 11 taken back");
    }

    function test_withoutAPositionATapOnThePlanIsThePlace() {
        open(true);
        const plan = findChild(find("walkPlan"), "plan");
        const touch = touchEvent(plan);
        touch.press(0, plan, plan.width / 2 + 40, plan.height / 2 + 120).commit();
        touch.release(0, plan, plan.width / 2 + 40, plan.height / 2 + 120).commit();
        tryVerify(() => trial.walk.show.pin !== "");
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(shown("saveButton"));
        verify(Number(trial.last("sighting", "accuracy_m")) > 0);
    }

    function test_aTouchOnAPatchChoosesIt() {
        open(true);
        const plan = findChild(find("walkPlan"), "plan");
        const at = plan.whereIs("p3");
        const touch = touchEvent(plan);
        touch.press(0, plan, at.x, at.y).commit();
        touch.release(0, plan, at.x, at.y).commit();
        tryCompare(trial.walk.near, "title", "Hollow 3, hungry");
        tap(shown("measureNear"));
        compare(trial.mark.show.title, "Measure Hollow 3");
    }

    function test_twoFingersZoomThePlan() {
        open(true);
        const plan = findChild(find("walkPlan"), "plan");
        const before = plan.scaleWidth / parseFloat(plan.scaleText);
        const pinch = touchEvent(plan);
        pinch.press(0, plan, 400, 300).press(1, plan, 500, 300).commit();
        for (let i = 1; i <= 10; ++i)
            pinch.move(0, plan, 400 - i * 15, 300).move(1, plan, 500 + i * 15, 300).commit();
        pinch.release(0, plan, 250, 300).release(1, plan, 650, 300).commit();
        verify(plan.scaleWidth / parseFloat(plan.scaleText) > before * 1.5);
    }

    function test_anOutlineIsWalked() {
        open(true);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(shown("walkOutline"));
        for (let i = 0; i < 32; ++i)
            trial.stand(4 + 2 * Math.cos(i * Math.PI / 16), 4 + 2 * Math.sin(i * Math.PI / 16), 0.5);
        const before = trial.count("sighting");
        tap(shown("closeOutline"));
        compare(trial.count("sighting"), before + 1);
        verify(Number(trial.last("sighting", "area_m2")) > 11);
        verify(shown("markButton"));
    }

    function test_aPlaceIsStoodOn() {
        open(true);
        trial.stand(4, 5, 2.4);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(shown("placeBetter"));
        for (let i = 0; i < 20; ++i) {
            trial.wait(1);
            trial.stand(4, 5, 2.4);
        }
        tap(shown("placeAction"));
        tap(shown("saveButton"));
        verify(Number(trial.last("sighting", "accuracy_m")) < 2.4);
    }

    function touchAt(item: Item, x: real, y: real) {
        const touch = touchEvent(item);
        touch.press(0, item, x, y).commit();
        touch.release(0, item, x, y).commit();
        wait(0);
    }

    function test_anOutlineIsDrawnOnThePlan() {
        open(true);
        trial.stand(4, 5, 2.4);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(shown("drawOutline"));
        const plan = findChild(shown("drawPlan"), "plan");
        const middle = Qt.point(plan.width / 2, plan.height / 2);
        for (const corner of [[-80, -80], [80, -80], [80, 80], [-80, 80]])
            touchAt(plan, middle.x + corner[0], middle.y + corner[1]);
        const before = trial.count("sighting");
        tap(shown("saveDrawing"));
        compare(trial.count("sighting"), before + 1);
        const area = Number(trial.last("sighting", "area_m2"));
        verify(area > 0);
        const there = trial.serverPatch(trial.last("sighting", "patch"), "area_m2");
        verify(there === "no server" || Math.abs(Number(there) - area) < 1e-9, there);
    }

    function test_depthsAlongAChannel() {
        open(true);
        trial.stand(4, 5, 2.4);
        tap(shown("markButton"));
        tap(shown("kindWashed"));
        tap(shown("depthButton"));
        for (const figure of ["30", "50"]) {
            tap(search(find("depthStepper"), item => item.sign === undefined && item.clicked !== undefined));
            for (const key of figure)
                tap(word(key));
            tap(word("Take it"));
            tap(shown("addDepth"));
        }
        tap(shown("depthsDone"));
        tap(shown("saveButton"));
        compare(trial.lastList("sighting", "depth_mm"), "30,50");
    }

    function test_framesAreThrown() {
        open(true);
        tap(shown("countFrames"));
        for (const figure of ["8", "12"]) {
            tap(search(find("bareStepper"), item => item.sign === undefined && item.clicked !== undefined));
            for (const key of figure)
                tap(word(key));
            tap(word("Take it"));
            tap(shown("countFrame"));
        }
        compare(trial.count("frame"), 2);
        compare(trial.last("frame", "squares_bare"), "12");
        const share = trial.serverGreen("Hollow", "thin_share");
        // A tenth of the green less what lies in marked patches.
        verify(share === "no server" || Number(share) > 0.09 && Number(share) < 0.1, share);
        tap(shown("framesDone"));
        verify(shown("markButton"));
    }
}
