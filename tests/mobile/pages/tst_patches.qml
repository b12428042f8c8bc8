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

    function test_measureAgainFromThePatchesPage() {
        open(true);
        trial.shell.openPage(Shell.Patches);
        trial.patches.openPatch("p7");
        tap(shown("measureAgain"));
        compare(trial.mark.show.title, "Measure Hollow 7");
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
