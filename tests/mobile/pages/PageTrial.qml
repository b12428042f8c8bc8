import QtQuick
import QtTest
import Swardwalk
import SwardwalkTrials

// What the tests of the pages share: the app on a trial course, and fingers.
TestCase {
    id: testCase

    property Item pages: null

    function open(withCourse: bool) {
        if (pages !== null) {
            pages.destroy();
            pages = null;
            wait(0);
        }
        trial.open(withCourse);
        // Beside the test case, which is itself never visible.
        pages = component.createObject(testCase.parent);
        waitForRendering(pages);
    }

    function find(name: string): var {
        const item = findChild(pages, name);
        verify(item !== null, name + " is there");
        return item;
    }

    function shown(name: string): var {
        const item = find(name);
        tryVerify(() => item.visible, 1000, name + " is visible");
        return item;
    }

    function tap(item: Item) {
        verify(item.enabled, item + " can be touched");
        const touch = touchEvent(item);
        touch.press(0, item, item.width / 2, item.height / 2).commit();
        touch.release(0, item, item.width / 2, item.height / 2).commit();
        wait(0);
    }

    // The control with this word on it.
    function word(text: string): var {
        const found = search(pages, item => item.visible && item.enabled
                             && item.Accessible !== undefined && item.text === text
                             && item.clicked !== undefined);
        verify(found !== null, "a control says " + text);
        return found;
    }

    function search(item: Item, fits: var): var {
        if (!item.visible)
            return null;
        if (fits(item))
            return item;
        for (let i = 0; i < item.children.length; ++i) {
            const found = search(item.children[i], fits);
            if (found !== null)
                return found;
        }
        return null;
    }

    function everyControl(item: Item, visit: var) {
        if (!item.visible || item.opacity === 0)
            return;
        if (item.clicked !== undefined && item.pressed !== undefined && item.background !== undefined)
            visit(item);
        for (let i = 0; i < item.children.length; ++i)
            everyControl(item.children[i], visit);
    }

    when: windowShown
    width: 1280
    height: 800

    TrialApp { id: trialApp }
    property TrialApp trial: trialApp

    Component {
        id: component
        Pages {
            width: testCase.width
            height: testCase.height
            shell: trialApp.shell
            walk: trialApp.walk
            mark: trialApp.mark
            place: trialApp.place
            outline: trialApp.outline
            draw: trialApp.draw
            frames: trialApp.frames
            patches: trialApp.patches
            patch: trialApp.patch
            repairs: trialApp.repairs
            repairForm: trialApp.repairForm
            choice: trialApp.choice
            materials: trialApp.materials
            material: trialApp.material
            photos: trialApp.photos
            shed: trialApp.shed
        }
    }

    function init() {
        failOnWarning(/.?/);
    }
    function cleanup() {
        if (pages !== null) {
            pages.destroy();
            pages = null;
            wait(0);
        }
    }
}
