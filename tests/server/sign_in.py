#!/usr/bin/env python3
"""Signs in to a shed's page with Chromium, which trusts one certificate by its key alone.

    sign_in.py ADDRESS SPKI NAME PASSWORD

SPKI is the SHA-256 of the certificate's public key, base64. Prints what the page shows of who is
signed in, and the course. Fails where the page does not come to that.
"""
import json
import os
import subprocess
import sys
import tempfile
import time

PATIENCE_S = 30


class Browser:
    """Chromium's DevTools protocol over two pipes."""

    def __init__(self, folder, spki):
        to_us, self.say = os.pipe()
        self.hear, from_us = os.pipe()
        # Chromium reads from 3 and writes to 4.
        command = ["chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run",
                   "--disable-background-networking", "--disable-component-update",
                   f"--user-data-dir={folder}", f"--ignore-certificate-errors-spki-list={spki}",
                   "--remote-debugging-pipe"]
        self.process = subprocess.Popen(
            ["bash", "-c", f'exec "$@" 3<&{to_us} 4>&{from_us}', "bash", *command],
            pass_fds=(to_us, from_us), stderr=subprocess.DEVNULL, stdout=subprocess.DEVNULL)
        os.close(to_us)
        os.close(from_us)
        self.number, self.unread, self.session = 0, b"", None

    def ask(self, method, **parameters):
        self.number += 1
        question = {"id": self.number, "method": method, "params": parameters}
        if self.session:
            question["sessionId"] = self.session
        os.write(self.say, json.dumps(question).encode() + b"\0")
        while True:
            while b"\0" not in self.unread:
                block = os.read(self.hear, 65536)
                if not block:
                    sys.exit("chromium ended")
                self.unread += block
            message, self.unread = self.unread.split(b"\0", 1)
            answer = json.loads(message)
            if answer.get("id") == self.number:
                if "error" in answer:
                    sys.exit(f"{method}: {answer['error']}")
                return answer["result"]

    def value(self, expression):
        return self.ask("Runtime.evaluate", expression=expression, returnByValue=True)["result"].get("value")

    def wait_for(self, expression):
        end = time.monotonic() + PATIENCE_S
        while time.monotonic() < end:
            if found := self.value(expression):
                return found
            time.sleep(0.1)
        sys.exit(f"never came: {expression}; the page: {self.value('document.body.innerText')[:300]}")


def main():
    address, spki, name, password = sys.argv[1:]
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
        browser = Browser(folder, spki)
        try:
            target = browser.ask("Target.createTarget", url="about:blank")["targetId"]
            browser.session = browser.ask("Target.attachToTarget", targetId=target, flatten=True)["sessionId"]
            went = browser.ask("Page.navigate", url=address)
            if "errorText" in went:
                sys.exit(f"{address}: {went['errorText']}")
            browser.wait_for("!!document.getElementById('sign-in-password')")
            browser.value(f"document.getElementById('sign-in-name').value = {json.dumps(name)}")
            browser.value(f"document.getElementById('sign-in-password').value = {json.dumps(password)}")
            browser.value("document.querySelector('form.sign-in button').click()")
            print(browser.wait_for("document.querySelector('#me span')?.textContent"))
            print(browser.wait_for("document.getElementById('day').textContent && "
                                   "document.getElementById('course').textContent"))
        finally:
            browser.process.terminate()
            browser.process.wait()


if __name__ == "__main__":
    main()
