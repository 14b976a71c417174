// Opens a written report in a real browser and tries what a reader would.
//
//   node report.mjs PATH/TO/report.html [FOLDER FOR SCREENSHOTS]
//
// CHROMIUM names another browser than /usr/bin/chromium.
import assert from "node:assert/strict";
import { mkdirSync } from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const [report = "report.html", shots] = process.argv.slice(2);
const address = pathToFileURL(path.resolve(report)).href;
const quiet = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
  "--disable-component-update", "--disable-sync"];
const start = (...more) => chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: [...quiet, ...more],
});
const MM = 96 / 25.4;
// Width of the paper less the margins of the page's style sheet, CSS pixels.
const papers = { A4: (210 - 28) * MM, Letter: (215.9 - 28) * MM };
if (shots) mkdirSync(shots, { recursive: true });

/** Opens the report and keeps everything it says or asks for. */
async function open(browser, options = {}) {
  const page = await browser.newPage(options);
  const said = [];
  const asked = [];
  page.on("console", (m) => { if (m.type() === "error") said.push(m.text()); });
  page.on("pageerror", (e) => said.push(e.message));
  page.on("dialog", (d) => { said.push(`dialog: ${d.message()}`); d.dismiss(); });
  page.on("request", (r) => { if (r.url() !== address && !/^(data|blob):/.test(r.url())) asked.push(r.url()); });
  await page.goto(address);
  return { page, said, asked };
}

/** How many colours the 3-D view shows, and the picture itself. */
async function seen(page) {
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  const picture = (await page.locator("#turnable").screenshot()).toString("base64");
  const colours = await page.evaluate(async (text) => {
    const image = new Image();
    image.src = `data:image/png;base64,${text}`;
    await image.decode();
    const flat = document.createElement("canvas");
    [flat.width, flat.height] = [image.width, image.height];
    const brush = flat.getContext("2d");
    brush.drawImage(image, 0, 0);
    const data = brush.getImageData(4, 4, image.width - 8, image.height - 8).data;
    const all = new Set();
    for (let i = 0; i < data.length; i += 4) all.add((data[i] << 16) | (data[i + 1] << 8) | data[i + 2]);
    return all.size;
  }, picture);
  return { picture, colours };
}

/** Elements that reach past the right edge, by name. */
const past = (page, width) => page.evaluate((width) => {
  const shown = [...document.body.querySelectorAll("*")].filter((e) => !e.closest("svg") && e.getClientRects().length);
  const over = shown.filter((e) => e.getBoundingClientRect().right > width + 1 || e.getBoundingClientRect().left < -1);
  const svgs = [...document.querySelectorAll("svg")].filter((e) => e.getBoundingClientRect().right > width + 1);
  return [...over, ...svgs].map((e) => `${e.tagName} ${e.className.baseVal ?? e.className} ${e.textContent.slice(0, 40)}`);
}, width);

/** Texts whose contrast against what lies behind them is below 4.5 to 1 (WCAG 2.1, 1.4.3), except inside pictures. */
const faint = (page) => page.evaluate(() => {
  const parse = (text) => (text.match(/[\d.]+/g) ?? []).map(Number);
  const light = ([r, g, b]) => {
    const [x, y, z] = [r, g, b].map((c) => c / 255).map((c) => (c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const behind = (e) => {
    for (let at = e; at; at = at.parentElement) {
      const colour = parse(getComputedStyle(at).backgroundColor);
      if (colour.length === 3 || colour[3] === 1) return colour;
    }
    return [255, 255, 255];
  };
  const own = (e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
  const texts = [...document.querySelectorAll("body *")].filter((e) => !e.closest("svg") && !e.closest("script") && own(e));
  return texts.filter((e) => e.getClientRects().length).filter((e) => {
    const [a, b] = [light(parse(getComputedStyle(e).color)), light(behind(e))].sort((x, y) => y - x);
    return (a + 0.05) / (b + 0.05) < 4.5;
  }).map((e) => `${e.tagName}.${e.className}: ${e.textContent.slice(0, 40)}`);
});

const tests = {
  async "opens without error and asks for nothing"(browser) {
    const { page, said, asked } = await open(browser);
    await page.waitForTimeout(300);
    assert.deepEqual(said, []);
    assert.deepEqual(asked, []);
    assert.match(await page.locator("#verdict h2").innerText(), /adequate|tight/);
  },

  async "the 3-D view shows the table, turns, comes apart and shows single parts"(browser) {
    const { page, said } = await open(browser, { viewport: { width: 1280, height: 900 } });
    const first = await seen(page);
    assert.ok(first.colours > 50, `${first.colours} colours`);
    await page.locator("#turnable").focus();
    await page.keyboard.press("ArrowLeft");
    const turned = await seen(page);
    assert.notEqual(turned.picture, first.picture);
    await page.locator("#apart").fill("100");
    const apart = await seen(page);
    assert.notEqual(apart.picture, turned.picture);
    if (shots) await page.locator("#turnable-panel").screenshot({ path: path.join(shots, "apart.png") });
    await page.locator("#shown").selectOption({ index: 1 });
    const part = await seen(page);
    assert.notEqual(part.picture, apart.picture);
    assert.ok(part.colours > 20, `${part.colours} colours`);
    if (shots) await page.locator("#turnable-panel").screenshot({ path: path.join(shots, "part.png") });
    for (const look of ["Front", "Side", "Above", "Below", "Corner"]) {
      await page.getByRole("button", { name: look, exact: true }).click();
      assert.ok((await seen(page)).colours > 10, look);
    }
    const box = await page.locator("#turnable").boundingBox();
    const before = await seen(page);
    await page.mouse.move(box.x + 100, box.y + 100);
    await page.mouse.down();
    await page.mouse.move(box.x + 180, box.y + 120);
    await page.mouse.up();
    assert.notEqual((await seen(page)).picture, before.picture);
    assert.deepEqual(said, []);
  },

  async "checks fold and unfold, one by one and together, and can be chosen by time"(browser) {
    const { page } = await open(browser);
    const check = page.locator(".check").first();
    const working = check.locator(".working");
    assert.equal(await working.isVisible(), false);
    await check.locator("summary").click();
    assert.equal(await working.isVisible(), true);
    await check.locator("summary").click();
    assert.equal(await working.isVisible(), false);
    const [count, opened] = [await page.locator(".check").count(), page.locator(".check[open]")];
    await page.getByRole("button", { name: "Unfold all working" }).click();
    assert.equal(await opened.count(), count);
    await page.getByRole("button", { name: "Fold all", exact: true }).click();
    assert.equal(await opened.count(), 0);
    await page.locator("#when").selectOption("now");
    assert.equal(await page.locator('.check[data-when="later"]:visible').count(), 0);
  },

  async "strength stands before firmness, each in order of utilisation"(browser) {
    const { page } = await open(browser);
    const checks = await page.locator(".check").evaluateAll((all) =>
      all.map((one) => [one.querySelector("strong").innerText, Number(one.querySelector(".tag").innerText)]));
    const firm = ([name]) => /^(sway|top: sag|legs: play|legs: tubes slide)/.test(name);
    const first = checks.findIndex(firm);
    assert.ok(first > 0 && checks.slice(first).every(firm), "firmness comes last, all of it");
    for (const some of [checks.slice(0, first), checks.slice(first)]) {
      const used = some.map(([, x]) => x).filter((x) => !Number.isNaN(x));
      assert.deepEqual(used, [...used].sort((x, y) => y - x));
    }
  },

  async "nothing is wider than a phone, light and dark have contrast"(browser) {
    for (const colorScheme of ["light", "dark"]) {
      for (const [name, width, height] of [["phone", 360, 740], ["desk", 1280, 900]]) {
        const { page } = await open(browser, { viewport: { width, height }, colorScheme });
        await page.getByRole("button", { name: "Unfold all working" }).click();
        assert.ok((await page.evaluate(() => document.documentElement.scrollWidth)) <= width, `${name} scrolls sideways`);
        assert.deepEqual(await past(page, width), []);
        assert.deepEqual(await faint(page), [], `${name} ${colorScheme}`);
        if (shots) {
          await page.getByRole("button", { name: "Fold all", exact: true }).click();
          await seen(page);
          await page.screenshot({ path: path.join(shots, `${name}_${colorScheme}.png`), fullPage: true });
        }
        await page.close();
      }
    }
  },

  async "prints on A4 and Letter without cutting anything off"(browser) {
    for (const [format, width] of Object.entries(papers)) {
      const { page } = await open(browser, { viewport: { width: Math.floor(width), height: 900 } });
      await page.getByRole("button", { name: "Unfold all working" }).click();
      await page.emulateMedia({ media: "print" });
      assert.deepEqual(await past(page, width), [], format);
      assert.equal(await page.locator("#turnable").isVisible(), false);
      assert.equal(await page.locator(".still").first().isVisible(), true);
      const pdf = await page.pdf({ format, ...(shots ? { path: path.join(shots, `${format}.pdf`) } : {}) });
      assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
      const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
      assert.ok(pages >= 6, `${pages} pages`);
      await page.close();
    }
  },

  async "everything that can be worked has a name and a place in the tab order"(browser) {
    const { page } = await open(browser);
    const nameless = await page.evaluate(() => [...document.querySelectorAll("button, select, input, canvas, a")]
      .filter((e) => !(e.innerText || e.getAttribute("aria-label") || e.getAttribute("aria-labelledby") || e.labels?.[0]?.innerText))
      .map((e) => e.outerHTML));
    assert.deepEqual(nameless, []);
    assert.equal(await page.locator("#turnable").getAttribute("tabindex"), "0");
  },

  async "without script the still pictures and the checks remain"(browser) {
    const { page } = await open(browser, { javaScriptEnabled: false });
    assert.ok((await page.locator(".still svg").count()) > 3);
    assert.equal(await page.locator("#turnable-panel").isVisible(), false);
    await page.locator(".check summary").first().click();
    assert.equal(await page.locator(".check .working").first().isVisible(), true);
  },

  async "without WebGL the page says so and stays whole"() {
    const browser = await start("--disable-3d-apis");
    const { page, said } = await open(browser);
    assert.equal(await page.locator("#turnable-panel").isVisible(), false);
    assert.equal(await page.locator("#turnable-none").isVisible(), true);
    assert.equal(await page.locator(".still").first().isVisible(), true);
    assert.deepEqual(said, []);
    await browser.close();
  },
};

let failed = 0;
const browser = await start("--enable-unsafe-swiftshader");
for (const [name, test] of Object.entries(tests)) {
  try {
    await test(browser);
    console.log(`ok    ${name}`);
  } catch (error) {
    failed += 1;
    console.log(`FAIL  ${name}\n${error.stack}`);
  }
}
await browser.close();
console.log(failed ? `${failed} failed` : "all passed");
process.exit(failed ? 1 : 0);
