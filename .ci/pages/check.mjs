// Looks at tickets as people do: on a phone and at a desk, in the light and in the
// dark, and on paper. It fails when a page is wider than its screen, says something
// on the console, asks anything of the network, or when axe finds a violation.
//
//   node check.mjs OUT ticket.html ...      pictures and PDFs go to the folder OUT
import {createRequire} from "node:module";
import {readFileSync, writeFileSync} from "node:fs";
import {basename, join, resolve} from "node:path";
import {pathToFileURL} from "node:url";
import puppeteer from "puppeteer-core";

const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const [out, ...files] = process.argv.slice(2);
const screens = [
  {name: "phone", width: 360, height: 740, deviceScaleFactor: 2, isMobile: true, hasTouch: true},
  {name: "desk", width: 1280, height: 900, deviceScaleFactor: 1},
];
const papers = [
  {name: "A4", width: 794 - 2 * 57}, // CSS pixels between the margins of 15 mm
  {name: "Letter", width: 816 - 2 * 57},
];
const faults = [];

// tooWide lists what stands beyond the right or left edge of the page.
function tooWide() {
  const wide = document.documentElement.clientWidth;
  const out = [];
  if (document.documentElement.scrollWidth > wide) out.push(`the page is ${document.documentElement.scrollWidth} wide`);
  for (const e of document.body.querySelectorAll("*")) {
    const r = e.getBoundingClientRect();
    if (r.width > 0 && (r.right > wide + 1 || r.left < -1)) out.push(`${e.tagName} ${String(e.className.baseVal ?? e.className)} from ${r.left} to ${r.right}: ${e.textContent.slice(0, 60)}`);
    // Words of a picture stand inside it; others are no wider than their place.
    const picture = e instanceof SVGElement && e.ownerSVGElement;
    if (picture) {
      const p = e.ownerSVGElement.getBoundingClientRect();
      if (e.tagName === "text" && (r.right > p.right + 2 || r.left < p.left - 2 || r.bottom > p.bottom + 2 || r.top < p.top - 2)) out.push(`words leave their picture: ${e.textContent.slice(0, 60)}`);
    } else if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && getComputedStyle(e).display !== "inline") out.push(`${e.tagName} holds more than its width: ${e.textContent.slice(0, 60)}`);
  }
  return out.slice(0, 5);
}

async function look(browser, file, screen, scheme) {
  const where = `${basename(file)}, ${screen.name}, ${scheme}`;
  const url = pathToFileURL(resolve(file)).href;
  const page = await browser.newPage();
  page.on("console", m => faults.push(`${where}: console: ${m.text()}`));
  page.on("pageerror", e => faults.push(`${where}: error: ${e.message}`));
  page.on("request", r => {
    if (r.url() !== url && !r.url().startsWith("data:image/")) faults.push(`${where}: asks for ${r.url()}`);
  });
  await page.setViewport(screen);
  await page.emulateMediaFeatures([{name: "prefers-color-scheme", value: scheme}]);
  await page.goto(url, {waitUntil: "load"});
  for (const w of await page.evaluate(tooWide)) faults.push(`${where}: too wide: ${w}`);
  await page.screenshot({path: join(out, `${basename(file, ".html")}-${screen.name}-${scheme}.png`), fullPage: true});
  await page.evaluate(axe);
  const found = await page.evaluate(() => globalThis.axe.run(document, {resultTypes: ["violations"]}));
  for (const v of found.violations) faults.push(`${where}: axe: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html.slice(0, 120)).join(" | ")}`);
  await page.close();
}

async function print(browser, file, paper) {
  const where = `${basename(file)}, ${paper.name}`;
  const page = await browser.newPage();
  await page.setViewport({width: paper.width, height: 1000});
  // Somebody prints from a dark screen: paper stays white.
  await page.emulateMediaFeatures([{name: "prefers-color-scheme", value: "dark"}]);
  await page.goto(pathToFileURL(resolve(file)).href, {waitUntil: "load"});
  await page.emulateMediaType("print");
  for (const w of await page.evaluate(tooWide)) faults.push(`${where}: too wide: ${w}`);
  const paint = await page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  if (paint !== "rgb(255, 255, 255)") faults.push(`${where}: the paper is ${paint}`);
  const pdf = await page.pdf({format: paper.name, preferCSSPageSize: false});
  writeFileSync(join(out, `${basename(file, ".html")}-${paper.name}.pdf`), pdf);
  if (Buffer.from(pdf).toString("latin1", 0, 5) !== "%PDF-") faults.push(`${where}: no PDF was printed`);
  await page.close();
}

const browser = await puppeteer.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  // As root, as in a container, Chromium has no sandbox; the pages are our own.
  args: ["--disable-gpu", ...(process.getuid?.() === 0 ? ["--no-sandbox"] : [])],
  protocolTimeout: 600_000,
});
try {
  for (const file of files) {
    for (const screen of screens) for (const scheme of ["light", "dark"]) await look(browser, file, screen, scheme);
    for (const paper of papers) await print(browser, file, paper);
    console.log(`looked at ${basename(file)}`);
  }
} finally {
  await browser.close();
}
if (faults.length > 0) {
  console.error(faults.join("\n"));
  process.exit(1);
}
console.log(`${files.length} tickets: nothing is too wide, nothing is asked of the network, axe finds nothing`);
