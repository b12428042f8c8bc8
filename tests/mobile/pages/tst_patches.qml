import QtQuick
import QtTest
import Swardwalk

PageTrial {
    name: "PatchesAndRepairs"

    function test_aPatchIsClosedFromItsPage() {
        open(true);
        tap(word("Patches"));
        const row = search(pages, item => item.Accessible !== undefined && item.clicked !== undefined
                           && item.visible && String(item.Accessible.name).startsWith("Hollow 5,"));
        verify(row !== null);
        tap(row);
        tap(shown("itIsClosed"));
        compare(trial.last("closed", "patch"), "p5");
        verify(!trial.patch.show.open);
        const verdict = trial.serverVerdict("p5");
        verify(verdict === "closed" || verdict === "no server", verdict);
    }

    function test_aPhotoIsTakenToAPatchAndShown() {
        open(true);
        trial.takePictures(3);
        trial.shell.openPage(Shell.Patches);
        trial.patches.openPatch("p7");
        tap(shown("addPhoto"));
        compare(trial.shell.task, Shell.Photos);
        tap(search(pages, item => item.Accessible !== undefined && item.clicked !== undefined
                   && String(item.Accessible.name).startsWith("Take the picture of")));
        compare(trial.last("photo", "patch"), "p7");
        tap(word("Undo"));
        verify(trial.count("withdraw") === 1);
        tap(search(pages, item => item.Accessible !== undefined && item.clicked !== undefined
                   && String(item.Accessible.name).startsWith("Take the picture of")));
        tap(shown("photosDone"));
        compare(shown("photoCard").Accessible.name, "Photo of 29 April, Ansa");
        tap(shown("photoCard"));
        compare(shown("photoWords").text, "29 April, Ansa");
        tap(shown("closePhoto"));
        verify(!find("closePhoto").visible);
    }

    function test_aRepairIsTicked() {
        open(true);
        tap(word("Repairs"));
        verify(trial.repairs.next.there);
        const before = trial.count("repair");
        tap(shown("doneAsPlanned"));
        compare(trial.count("repair"), before + 1);
        verify(trial.repairs.second.startsWith("1 of"));
    }

    function test_otherAmountsAreSaid() {
        open(true);
        tap(word("Repairs"));
        tap(word("Other amounts"));
        tap(word("Raked back: no"));
        tap(shown("saveRepair"));
        compare(trial.last("repair", "raked_back"), "true");
    }

    function test_otherwiseIsChosenFromRepairs() {
        open(true);
        tap(word("Repairs"));
        tap(shown("chooseOtherwise"));
        settle();
        const again = search(pages, item => item.title === "Look again");
        tap(again);
        verify(again.picked);
        tap(word("Ansa"));
        compare(shown("choiceSummary").text, "Look again, by Ansa");
        tap(shown("saveChoice"));
        compare(trial.last("choice", "choice"), "look again");
        compare(trial.last("choice", "who"), "Ansa");
        compare(trial.shell.page, Shell.Repairs);
        compare(trial.shell.task, Shell.NoTask);
    }

    function test_aSeedLotIsEnteredFromRepairs() {
        open(true);
        tap(word("Repairs"));
        find("repairList").positionViewAtEnd();
        settle();
        tap(shown("openMaterials"));
        settle();
        tap(shown("add" + Shelves.SeedLot));
        settle();
        verify(!shown("saveMaterial").enabled);
        shown("materialName").forceActiveFocus();
        for (const key of "Bent 27")
            keyClick(key);
        tap(word("creeping bentgrass"));
        compare(shown("materialMissing").text, "Still needed: the purity, the germination");
    }

    function test_measureAgainFromThePatchesPage() {
        open(true);
        trial.shell.openPage(Shell.Patches);
        trial.patches.openPatch("p7");
        tap(shown("measureAgain"));
        compare(trial.mark.show.title, "Measure Hollow 7");
    }

    // Lists make rows beyond their edge in their own time, and buttons take their new places.
    function settle() {
        waitForRendering(pages);
        wait(100);
    }

    function markBesideTen() {
        trial.stand(6.6, -2, 1.0);
        tap(shown("markButton"));
        tap(shown("kindBare"));
        tap(shown("saveButton"));
    }

    function test_twoThatMayBeOneAreJoinedAndTakenApart() {
        open(true);
        markBesideTen();
        const patches = trial.serverCount("patches");
        tap(word("Patches"));
        const line = shown("sameLine");
        verify(/^Same patch\? Hollow 1[01] and Hollow 1[01], /.test(line.Accessible.name), line.Accessible.name);
        settle();
        tap(line);
        settle();
        verify(trial.patches.same.show.limits.startsWith("The positions tell apart only"));
        compare(trial.count("join"), 0);
        tap(shown("joinPatches"));
        settle();
        compare(trial.count("join"), 1);
        verify(!trial.patches.same.show.asked);
        verify(trial.patches.same.show.saved.title.startsWith("Joined"));
        // One patch everywhere: nothing is counted twice.
        verify(patches === -1 || trial.serverCount("patches") === patches - 1);
        tap(shown("takeApart"));
        settle();
        compare(trial.count("withdraw"), 1);
        compare(trial.serverCount("patches"), patches);
        tap(shown("sameLine"));
        settle();
        tap(shown("leaveTwo"));
        verify(!trial.patches.same.show.asked);
        compare(trial.count("join"), 1);
    }

    function test_aJoinIsTakenApartOnThePatchsPage() {
        open(true);
        markBesideTen();
        tap(word("Patches"));
        settle();
        tap(shown("sameLine"));
        settle();
        tap(shown("joinPatches"));
        settle();
        trial.patches.openPatch("p10");
        verify(trial.patch.show.joined.endsWith("were joined by Ansa."), trial.patch.show.joined);
        settle();
        const apart = search(pages, item => item.objectName === "takeApart");
        tap(apart);
        compare(trial.count("withdraw"), 1);
        compare(trial.patch.show.joined, "");
    }

    function test_aBlankTabletSaysWhatToDo() {
        open(false);
        tap(word("Walk a green"));
        compare(trial.shell.task, Shell.Outline);
        tap(word("Leave, keep as draft"));
        tap(word("Meet the shed"));
        compare(trial.shell.page, Shell.Shed);
    }
}
