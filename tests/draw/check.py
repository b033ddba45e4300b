"""Looks at a page of drawings in a browser: nothing may overlap, be cut, or be wider than its screen.

    check.py FOLDER [--pictures FOLDER]     FOLDER holds page.html, as `draw --out` writes it
    check.py --self-test FOLDER             the same page with faults put in: each must be found

Chromium (headless, through Playwright) shows the page 1280 and 390 pixels wide and prints it to A4 and to Letter; axe-core
judges its accessibility, html5lib its form. Exit code 1 where anything is wrong. Nothing is loaded from a network: a page that asks for
something fails.
"""

import argparse
import pathlib
import re
import shutil
import sys

import html5lib
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

# Words of each figure against each other, against the figure's edges, and against boxes they do not belong to.
FIGURES = """() => {
  const faults = [];
  const meet = (a, b, by) => a.left < b.right - by && b.left < a.right - by && a.top < b.bottom - by && b.top < a.bottom - by;
  for (const svg of document.querySelectorAll('svg')) {
    const scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
    const name = svg.getAttribute('aria-label');
    const whole = svg.getBoundingClientRect();
    const texts = [...svg.querySelectorAll('text')].map(t => ({ words: t.textContent.trim(), box: t.getBoundingClientRect() }));
    for (const t of texts) {
      if (t.box.left < whole.left - 0.5 || t.box.right > whole.right + 0.5 || t.box.top < whole.top - 0.5 || t.box.bottom > whole.bottom + 0.5)
        faults.push(`${name}: "${t.words}" is cut by the edge`);
    }
    // The box of a text holds room above and below its letters.
    const slack = 2.2 * scale;
    for (let i = 0; i < texts.length; i++)
      for (let j = i + 1; j < texts.length; j++)
        if (meet(texts[i].box, texts[j].box, slack))
          faults.push(`${name}: "${texts[i].words}" meets "${texts[j].words}"`);
    for (const line of svg.querySelectorAll('path')) {
      const box = line.getBoundingClientRect();
      if (box.width > 0.5 || line.getAttribute('stroke') === '#bbb') continue;
      for (const t of texts)
        if (t.box.left + 1 < box.left && box.right < t.box.right - 1 && t.box.top + slack < box.bottom && box.top < t.box.bottom - slack)
          faults.push(`${name}: a line runs through "${t.words}"`);
    }
    for (const rect of svg.querySelectorAll('rect')) {
      const box = rect.getBoundingClientRect();
      for (const t of texts) {
        const middle = (t.box.top + t.box.bottom) / 2;
        if (middle < box.top || middle > box.bottom) continue;
        const cut = edge => t.box.left < edge - 0.7 * scale && t.box.right > edge + 0.7 * scale;
        if (cut(box.left) || cut(box.right)) faults.push(`${name}: "${t.words}" is cut by a box`);
      }
    }
  }
  return faults;
}"""

# What stands outside the screen, unless it can be scrolled to.
WIDTH = """() => {
  const faults = [];
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth > wide) faults.push(`the page is ${document.documentElement.scrollWidth} wide on ${wide}`);
  for (const e of document.querySelectorAll('h1,h2,h3,p,li,dt,dd,figure,div,table')) {
    if (e.closest('.scroll') && !e.classList.contains('scroll')) continue;
    const box = e.getBoundingClientRect();
    if (box.right > wide + 1 || box.left < -1) faults.push(`<${e.tagName.toLowerCase()}> "${e.textContent.trim().slice(0, 40)}" reaches ${Math.round(box.right)} on ${wide}`);
  }
  for (const e of document.querySelectorAll('td,th,h1,h2,h3,dd')) {
    if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0) faults.push(`"${e.textContent.trim().slice(0, 40)}" is wider than its box`);
  }
  return faults;
}"""

# What leaves the sheet of paper: the schedules lie across, everything else upright.
SHEET = """across => {
  const wide = document.documentElement.clientWidth, faults = [];
  for (const e of document.querySelectorAll('table, figure, svg, p, h1, h2, h3, dd, li')) {
    if (across !== Boolean(e.closest('#schedules'))) continue;
    if (e.getBoundingClientRect().right > wide + 1) faults.push(`"${e.textContent.trim().slice(0, 50)}" leaves the sheet`);
  }
  return faults;
}"""

# Headings in their order, words for every figure.
ORDER = """() => {
  const faults = [];
  let last = 0;
  for (const h of document.querySelectorAll('h1,h2,h3,h4,h5,h6')) {
    const level = Number(h.tagName[1]);
    if (level > last + 1) faults.push(`<h${level}> "${h.textContent}" follows <h${last}>`);
    last = level;
  }
  if (document.querySelectorAll('h1').length !== 1) faults.push('not one <h1>');
  for (const svg of document.querySelectorAll('svg')) {
    const title = svg.querySelector(':scope > title'), desc = svg.querySelector(':scope > desc');
    if (svg.getAttribute('role') !== 'img' || !title || !title.textContent.trim() || !desc || !desc.textContent.trim())
      faults.push('a figure without words for it');
  }
  for (const e of document.querySelectorAll('*'))
    for (const a of e.attributes) if (a.name.startsWith('on')) faults.push(`<${e.tagName}> has ${a.name}`);
  if (document.querySelector('script,iframe,object,embed,img,link')) faults.push('the page holds a script or something from elsewhere');
  return faults;
}"""

def shown(browser, page_file, width):
    page = browser.new_page(viewport={"width": width, "height": 900})
    asked = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(page_file.resolve().as_uri())
    page.evaluate("document.fonts.ready")
    other = [url for url in asked if url != page_file.resolve().as_uri()]
    return page, [f"the page asks for {url}" for url in other]


def at_width(browser, page_file, width, pictures):
    page, faults = shown(browser, page_file, width)
    faults += page.evaluate(WIDTH) + page.evaluate(FIGURES)
    if pictures:
        page.screenshot(path=pictures / f"{width}.png", full_page=True)
    page.close()
    return [f"{width} px: {fault}" for fault in faults]


def printed(browser, page_file, paper, pictures):
    """In print nothing can be scrolled to, so that everything must lie on the sheet."""
    inches = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}[paper]
    faults = []
    # Between the margins of style.css: upright, and across for the schedules.
    for across in (False, True):
        width = (inches[1] if across else inches[0]) * 96 - 2 * 11 / 25.4 * 96
        page, _ = shown(browser, page_file, int(width))
        page.emulate_media(media="print")
        faults += page.evaluate(SHEET, across)
        if not across:
            faults += page.evaluate(FIGURES)
        page.close()
    page, _ = shown(browser, page_file, 1280)
    document = page.pdf(format=paper, prefer_css_page_size=False, print_background=True)
    page.close()
    pages = len(re.findall(rb"/Type\s*/Page\b", document))
    if pages == 0:
        faults.append("no page")
    if pictures:
        (pictures / f"{paper}.pdf").write_bytes(document)
    print(f"{paper}: {pages} pages")
    return [f"{paper}: {fault}" for fault in faults]


def judged(browser, page_file):
    """axe-core, an independent checker of accessibility."""
    faults = []
    for width in (1280, 390):
        page, _ = shown(browser, page_file, width)
        found = Axe().run(page).response
        for rule in found["violations"]:
            where = rule["nodes"][0]["html"][:100]
            faults.append(f"axe, {width} px: {rule['id']}: {rule['help']} ({len(rule['nodes'])} places, {where})")
        print(f"axe-core {found['testEngine']['version']}, {width} px: {len(found['passes'])} rules pass")
        page.close()
    return faults


def order(browser, page_file):
    page, faults = shown(browser, page_file, 1280)
    faults += page.evaluate(ORDER)
    page.close()
    parser = html5lib.HTMLParser()
    parser.parse(page_file.read_text(encoding="utf-8"))
    return faults + [f"HTML, line {place[0]}: {word}" for place, word, _ in parser.errors]


def self_test(browser, page_file):
    """A check that finds nothing in a page with faults is none."""
    planted = {
        "meets": "const t = document.querySelector('svg text'); t.parentNode.append(t.cloneNode(true));",
        "cut by the edge": "document.querySelector('svg text').setAttribute('x', '700');",
        "cut by a box": "const t = document.querySelector('svg text'); const r = document.createElementNS('http://www.w3.org/2000/svg', 'rect');"
        " const b = t.getBBox(); r.setAttribute('x', b.x + b.width / 2); r.setAttribute('y', b.y); r.setAttribute('width', 400); r.setAttribute('height', b.height); t.parentNode.append(r);",
        "a line runs through": "const t = document.querySelector('svg text'); const p = document.createElementNS('http://www.w3.org/2000/svg', 'path');"
        " const b = t.getBBox(); p.setAttribute('d', `M${b.x + b.width / 2},${b.y} v${b.height}`); p.setAttribute('stroke', '#000'); t.parentNode.append(p);",
        "wide on": "document.querySelector('h1').style.width = '3000px';",
        "follows": "document.querySelector('h2').outerHTML = '<h4>x</h4>';",
        "without words": "document.querySelector('svg > title').remove();",
    }
    missed = []
    for words, script in planted.items():
        page, _ = shown(browser, page_file, 1280)
        page.evaluate(f"() => {{ {script} }}")
        found = page.evaluate(WIDTH) + page.evaluate(FIGURES) + page.evaluate(ORDER)
        if not any(words in fault for fault in found):
            missed.append(f"a planted fault was not found: {words}")
        page.close()
    page, _ = shown(browser, page_file, 1280)
    page.evaluate("() => document.documentElement.removeAttribute('lang')")
    if not any(rule["id"] == "html-has-lang" for rule in Axe().run(page).response["violations"]):
        missed.append("axe-core did not find a page without a language")
    page.close()
    return missed


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--pictures", type=pathlib.Path)
    parser.add_argument("--self-test", action="store_true")
    asked = parser.parse_args()
    page_file = asked.folder / "page.html"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        if asked.self_test:
            faults = self_test(browser, page_file)
        else:
            faults = order(browser, page_file)
            for width in (1280, 390):
                faults += at_width(browser, page_file, width, asked.pictures)
            for paper in ("A4", "Letter"):
                faults += printed(browser, page_file, paper, asked.pictures)
            faults += judged(browser, page_file)
        browser.close()
    for fault in faults[:60]:
        print(fault, file=sys.stderr)
    print(f"{asked.folder}: {len(faults)} faults")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
