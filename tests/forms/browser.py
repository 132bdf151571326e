"""Opens the page for people in a browser, without a window, and does what a reader does: filter, open a drawing, follow
a finding to its mark, go back, print. Nothing may be fetched, no error may be logged, nothing may overflow a phone.

browser.py LIBRARY.html FEW.html REPORT.json
"""

import base64
import io
import json
import re
import sys
import tempfile
from pathlib import Path

import pypdf
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select, WebDriverWait

STYLE = Path(__file__).parents[2] / "src/report/web/style.css"
FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --disable-dev-shm-usage --window-size=1280,900"
).split()


def browser(profile: str, script: bool = True) -> webdriver.Chrome:
    options = webdriver.ChromeOptions()
    options.binary_location = "/usr/bin/chromium"
    for flag in [*FLAGS, f"--user-data-dir={profile}"]:
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    if not script:
        options.add_experimental_option("prefs", {"profile.managed_default_content_settings.javascript": 2})
    return webdriver.Chrome(options=options, service=webdriver.ChromeService("/usr/bin/chromedriver"))


def wait(driver: webdriver.Chrome, what: str, condition) -> None:
    WebDriverWait(driver, 20).until(lambda _: condition(), what)


def shown(driver: webdriver.Chrome) -> list:
    return [row for row in driver.find_elements(By.CSS_SELECTOR, "#rows tr") if row.is_displayed()]


def no_overflow(driver: webdriver.Chrome, where: str) -> None:
    widths = driver.execute_script("return [document.documentElement.scrollWidth, innerWidth]")
    assert widths[0] <= widths[1], f"{where}: {widths[0]} px on a page of {widths[1]} px"


def quiet(driver: webdriver.Chrome) -> None:
    said = [entry for entry in driver.get_log("browser")]
    assert not said, said
    asked = []
    for entry in driver.get_log("performance"):
        event = json.loads(entry["message"])["message"]
        # The browser's own first page asks for things of its own.
        if event["method"] == "Network.requestWillBeSent" and event["params"]["documentURL"].startswith("file:"):
            asked.append(event["params"]["request"]["url"])
    assert any(url.endswith(".html") for url in asked), "requests are seen"
    wrong = [url[:200] for url in asked if not url.startswith(("file:", "data:"))]
    assert not wrong, wrong


def filters(driver: webdriver.Chrome, report: dict) -> None:
    drawings = report["drawings"]
    assert len(shown(driver)) == len(drawings)
    driver.find_element(By.ID, "search").send_keys("lid tap")
    assert [row.find_element(By.TAG_NAME, "a").text for row in shown(driver)] == ["samples/lid/lid-tap-drill.dxf"]
    driver.find_element(By.ID, "search").send_keys(Keys.ESCAPE)
    wait(driver, "Escape clears the search", lambda: len(shown(driver)) == len(drawings))

    def chosen(control: str, value: str, fits) -> None:
        Select(driver.find_element(By.ID, control)).select_by_value(value)
        expected = {drawing["path"] for drawing in drawings if fits(drawing)}
        assert expected, f"the samples have {value}"
        paths = lambda: {row.find_element(By.TAG_NAME, "a").text for row in shown(driver)}  # noqa: E731
        wait(driver, f"only what has {value} is shown", lambda: paths() == expected)
        driver.find_element(By.CSS_SELECTOR, "button[type=reset]").click()
        wait(driver, "all are shown again", lambda: len(shown(driver)) == len(drawings))

    chosen("level", "warn", lambda d: any(f["level"] == "warn" and not f["waived"] for f in d["findings"]))
    chosen("level", "none", lambda d: all(f["waived"] for f in d["findings"]))
    chosen("verdict", "loose", lambda d: any(h["verdict"] == "loose" for h in d["holes"]))
    chosen("rule", "cut-thread-size", lambda d: any(f["rule"] == "cut-thread-size" for f in d["findings"]))
    assert "no drawing" not in driver.find_element(By.ID, "count").text
    first = shown(driver)[0].find_element(By.TAG_NAME, "a").text
    most = max(drawings, key=lambda d: sum(f["level"] == "fail" for f in d["findings"]))
    assert first == most["path"], "the worst is first"


def follow(driver: webdriver.Chrome) -> None:
    """By keys alone from the list to the mark of a hole and back."""
    link = driver.find_element(By.LINK_TEXT, "samples/lid/lid-tap-drill.dxf")
    link.send_keys(Keys.ENTER)
    wait(driver, "the drawing opens", lambda: driver.find_elements(By.CSS_SELECTOR, ".drawing.open"))
    sheet = driver.find_element(By.CSS_SELECTOR, ".drawing.open")
    assert driver.switch_to.active_element.text == "samples/lid/lid-tap-drill.dxf", "the heading has the focus"
    assert not driver.find_element(By.ID, "library").is_displayed()
    assert "4X Ø3.3 +0.05/-0 THRU" in sheet.text and "4X Ø3.6 +0.03/0 THRU" in sheet.text
    way = sheet.find_element(By.CSS_SELECTOR, "a.way")
    name = way.text
    way.send_keys(Keys.ENTER)
    wait(driver, "the mark is highlighted", lambda: driver.find_elements(By.CSS_SELECTOR, ".sheet .mark.here"))
    mark = driver.find_element(By.CSS_SELECTOR, ".sheet .mark.here")
    assert mark.find_element(By.TAG_NAME, "text").text == name
    ring = mark.find_element(By.TAG_NAME, "circle")
    inside = "const r = arguments[0].getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && r.width > 8"
    assert driver.execute_script(inside, ring), "the ring is on the screen"
    near = sheet.find_element(By.CSS_SELECTOR, ".near use")
    assert driver.execute_script("return arguments[0].getBBox().width > 0", near), "the near view has a picture"
    driver.switch_to.active_element.send_keys(Keys.ESCAPE)
    wait(driver, "Escape closes", lambda: driver.find_element(By.ID, "library").is_displayed())
    assert driver.switch_to.active_element.text == "samples/lid/lid-tap-drill.dxf", "the focus is back on the row"


def media(driver: webdriver.Chrome, scheme: str) -> None:
    driver.execute_cdp_cmd(
        "Emulation.setEmulatedMedia", {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    )


def looks(driver: webdriver.Chrome) -> None:
    colour = "return getComputedStyle(document.body).backgroundColor"
    media(driver, "light")
    light = driver.execute_script(colour)
    media(driver, "dark")
    assert driver.execute_script(colour) != light, "there is a dark look"
    driver.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride", {"width": 390, "height": 844, "deviceScaleFactor": 2, "mobile": True}
    )
    no_overflow(driver, "the list on a phone")
    for path in ("samples/lid/lid-tap-drill.dxf", "samples/housing/housing-mistakes.dxf"):
        driver.find_element(By.LINK_TEXT, path).send_keys(Keys.ENTER)
        wait(driver, "the drawing opens", lambda: driver.find_elements(By.CSS_SELECTOR, ".drawing.open"))
        no_overflow(driver, path)
        driver.switch_to.active_element.send_keys(Keys.ESCAPE)
        wait(driver, "Escape closes", lambda: driver.find_element(By.ID, "library").is_displayed())
    driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    media(driver, "light")


def printed(driver: webdriver.Chrome) -> str:
    pages = pypdf.PdfReader(io.BytesIO(base64.b64decode(driver.print_page()))).pages
    return "\n".join(page.extract_text() for page in pages)


def prints(driver: webdriver.Chrome) -> None:
    driver.find_element(By.LINK_TEXT, "samples/lid/lid-tap-drill.dxf").send_keys(Keys.ENTER)
    wait(driver, "the drawing opens", lambda: driver.find_elements(By.CSS_SELECTOR, ".drawing.open"))
    text = printed(driver)
    for said in ("Write instead", "4X Ø3.6 +0.03/0 THRU", "Local codes and licensed practice govern"):
        assert said in re.sub(r"\s+", " ", text), f"{said!r} is not printed"
    assert "Show all" not in text, "controls are not printed"


def prints_all(driver: webdriver.Chrome, report: dict) -> None:
    """The button prints the list and the sheets of what the filters leave, and of nothing else; then all is as before."""
    Select(driver.find_element(By.ID, "rule")).select_by_value("cut-thread-size")
    fits = {d["path"] for d in report["drawings"] if any(f["rule"] == "cut-thread-size" for f in d["findings"])}
    assert 1 < len(fits) < len(report["drawings"])
    wait(driver, "the filter holds", lambda: len(shown(driver)) == len(fits))
    # The dialog of the printer would wait for a person.
    driver.execute_script("window.print = () => { window.asked = (window.asked || 0) + 1; }")
    driver.find_element(By.ID, "print").send_keys(Keys.ENTER)
    assert driver.execute_script("return window.asked") == 1, "the printer is asked"
    sheets = driver.find_elements(By.CSS_SELECTOR, "section.drawing.printed")
    titles = {sheet.find_element(By.TAG_NAME, "h2").text for sheet in sheets if sheet.is_displayed()}
    assert titles == fits, titles
    text = re.sub(r"\s+", " ", printed(driver))
    assert text.count("Every screw hole that was checked") == len(fits), "each sheet is printed"
    assert "What to change" in text and text.count("The working") >= len(fits), "the list and the workings are printed"
    left = lambda: driver.find_elements(By.CSS_SELECTOR, ".printed, body.printing, details.working[open]")  # noqa: E731
    wait(driver, "after printing the sheets are away again", lambda: not left())
    assert driver.find_element(By.ID, "library").is_displayed()
    driver.find_element(By.CSS_SELECTOR, "button[type=reset]").click()
    wait(driver, "all are shown again", lambda: len(shown(driver)) == len(report["drawings"]))


def contrast() -> None:
    """Each colour of letters against both grounds, in both looks: 7 to 1, WCAG 2.2 success criterion 1.4.6."""
    looks = re.findall(r":root \{(.*?)\}", STYLE.read_text("utf-8"), re.S)
    assert len(looks) == 3

    def luminance(colour: str) -> float:
        full = colour if len(colour) == 6 else "".join(2 * c for c in colour)
        parts = [int(full[i : i + 2], 16) / 255 for i in (0, 2, 4)]
        linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    for look in looks:
        colours = dict(re.findall(r"--(\w+): #([0-9a-f]+)", look))
        for letters in ("ink", "soft", "fail", "warn", "note", "good", "link"):
            for ground in ("paper", "fill"):
                pair = sorted((luminance(colours[letters]), luminance(colours[ground])))
                ratio = (pair[1] + 0.05) / (pair[0] + 0.05)
                assert ratio >= 7, f"{letters} on {ground}: {ratio:.2f}"


def main() -> None:
    library, few = (Path(name).resolve().as_uri() for name in sys.argv[1:3])
    report = json.loads(Path(sys.argv[3]).read_text("utf-8"))
    contrast()
    with tempfile.TemporaryDirectory() as profile:
        driver = browser(profile)
        try:
            driver.get(library)
            assert "kept-apart" in driver.find_element(By.TAG_NAME, "body").get_attribute("class")
            filters(driver, report)
            for page in (library, few):
                driver.get(page)
                follow(driver)
            driver.get(library)
            looks(driver)
            prints(driver)
            driver.get(library)
            prints_all(driver, report)
            quiet(driver)
        finally:
            driver.quit()
    with tempfile.TemporaryDirectory() as profile:
        driver = browser(profile, script=False)
        try:
            driver.get(few)
            text = driver.find_element(By.TAG_NAME, "body").text
            assert "Show all" not in text, "controls that do nothing are not shown"
            assert "Write instead" in text and "4X Ø3.6 +0.03/0 THRU" in text, "it can be read without a script"
        finally:
            driver.quit()
    print("the page opens, filters, leads from finding to mark and prints, without network or errors")


if __name__ == "__main__":
    main()
