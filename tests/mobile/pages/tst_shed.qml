import QtQuick
import QtTest
import Swardwalk

PageTrial {
    name: "Shed"

    function type(field: string, words: string) {
        tap(shown(field));
        const item = find(field);
        item.forceActiveFocus();
        for (const letter of words)
            keyClick(letter);
    }

    function test_codeAndFingerprintAreTypedAndThenItPairs() {
        open(true);
        trial.shell.openPage(Shell.Shed);
        tap(shown("readPicture"));
        compare(find("shedTitle").text, "No code in the newest pictures");
        trial.shed.address = "http://127.0.0.1:1";
        verify(!find("pairingCard").visible, "an open shed asks for no code");
        trial.shed.address = "https://127.0.0.1:1";
        verify(shown("pairingCard").visible);
        verify(!find("pairButton").enabled);
        type("pairingCode", "7k2m-q9tx");
        verify(!find("pairButton").enabled, "the fingerprint is still missing");
        type("pairingFingerprint", "0123456789abcdef".repeat(4));
        tryVerify(() => find("pairButton").enabled);
        tap(find("pairButton"));
        tryVerify(() => !trial.shed.show.running, 20000);
        compare(trial.shed.show.title, "The shed does not answer at 127.0.0.1");
        compare(trial.shed.show.pairedLine, "");
    }

    function test_oneTextFillsAllFields() {
        open(true);
        trial.shell.openPage(Shell.Shed);
        trial.shed.address = "swardwalk pair 1 https://192.0.2.7:8137/ "
                + "0123456789abcdef".repeat(4) + " 7k2m-q9tx";
        compare(find("shedAddress").text, "https://192.0.2.7:8137/");
        compare(find("pairingCode").text, "7K2M-Q9TX");
        verify(find("pairButton").enabled);
    }
}
