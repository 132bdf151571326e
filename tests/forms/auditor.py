"""Opens the page of a library in a browser, without a window, and does what an auditor does: read where to begin, sort and
filter the tables, go to a rule. Nothing may be fetched, no error may be logged, nothing may overflow a phone, and all is
there without a script.

auditor.py LIBRARY.html LIBRARY.json
"""

import json
import re
import sys
import tempfile
from pathlib import Path

from browser import browser, media, no_overflow, printed, quiet
from selenium import webdriver
from selenium.webdriver.common.by import By


def rows(driver: webdriver.Chrome, table: str) -> list:
    return [row for row in driver.find_elements(By.CSS_SELECTOR, f"{table} tbody tr") if row.is_displayed()]


def names(driver: webdriver.Chrome, table: str) -> list[str]:
    return [row.find_element(By.TAG_NAME, "th").text.split("\n")[0] for row in rows(driver, table)]


def reads(driver: webdriver.Chrome, picture: dict) -> None:
    text = driver.find_element(By.TAG_NAME, "body").text
    totals = picture["totals"]
    assert f"{totals['fail']} fail, {totals['warn']} warn" in text
    for said in ("Where to begin", "Test your own joint", "Local codes and licensed practice govern", "Unknown is never a pass"):
        assert said in text, said
    assert names(driver, "table.worst") == [one["path"] for one in picture["worst"]][:100]
    assert len(driver.find_elements(By.CSS_SELECTOR, ".histogram svg")) == min(12, len(picture["engagement"]))
    filled = "return getComputedStyle(document.querySelector('.f.outside')).fill"
    assert "#p-outside" in driver.execute_script(filled), "what is outside is told by a pattern"


def sorts(driver: webdriver.Chrome, picture: dict) -> None:
    def press(table: str, head: str) -> None:
        heads = driver.find_elements(By.CSS_SELECTOR, f"{table} thead button")
        next(one for one in heads if one.text.split(" ")[0] == head).click()

    warns = sorted((one["warn"] for one in picture["worst"][:100]), reverse=True)
    cells = lambda: [int(row.find_element(By.CSS_SELECTOR, "[data-h=Warn]").text) for row in rows(driver, "table.worst")]  # noqa: E731
    press("table.worst", "Warn")
    assert cells() == warns, "numbers are sorted from the greatest down"
    press("table.worst", "Warn")
    assert cells() == warns[::-1]
    press("table.worst", "Rank")
    press("table.worst", "Rank")
    assert names(driver, "table.worst")[0] == picture["worst"][0]["path"]
    word = Path(picture["worst"][0]["path"]).stem
    box = driver.find_element(By.XPATH, "//table[contains(@class,'worst')]/parent::div/preceding-sibling::p[1]")
    box.find_element(By.TAG_NAME, "input").send_keys(word)
    expected = [one["path"] for one in picture["worst"][:100] if word in json.dumps(one, ensure_ascii=False)]
    assert names(driver, "table.worst") == expected
    assert f"{len(expected)} of " in box.find_element(By.TAG_NAME, "output").text


def main() -> None:
    page = Path(sys.argv[1]).resolve().as_uri()
    picture = json.loads(Path(sys.argv[2]).read_text("utf-8"))
    assert len(picture["worst"]) > 12, "the samples fill a table that can be filtered"
    with tempfile.TemporaryDirectory() as profile:
        driver = browser(profile)
        try:
            driver.get(page)
            reads(driver, picture)
            sorts(driver, picture)
            driver.get(page)
            for scheme in ("light", "dark"):
                media(driver, scheme)
                driver.execute_cdp_cmd(
                    "Emulation.setDeviceMetricsOverride",
                    {"width": 390, "height": 844, "deviceScaleFactor": 2, "mobile": True},
                )
                no_overflow(driver, f"the page on a phone, {scheme}")
                driver.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
            text = re.sub(r"\s+", " ", printed(driver))
            assert "Where to begin" in text and "Filter these rows" not in text, "controls are not printed"
            quiet(driver)
        finally:
            driver.quit()
    with tempfile.TemporaryDirectory() as profile:
        driver = browser(profile, script=False)
        try:
            driver.get(page)
            reads(driver, picture)
            assert not driver.find_elements(By.CSS_SELECTOR, ".sorts button"), "nothing that needs a script is shown"
        finally:
            driver.quit()
    print("the page of a library reads, sorts, filters and prints, without network or errors")


main()
