// Opens pages in a real browser, does what it is told there, and says what it saw.
// Each question is a list of jobs; see Job and Sight in web.go. Two are done at a time.
const answer = require("../outside/answer.js");
const fs = require("fs");
const { chromium } = require("playwright-core");

const flags = [
  "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

async function act(page, step, sight) {
  switch (step.do) {
    case "press": return page.keyboard.press(step.on);
    case "hover": return page.hover(step.on);
    case "focus": return page.focus(step.on);
    case "click": return page.click(step.on);
    case "type": return page.keyboard.type(step.on);
    case "wait": return page.waitForFunction(step.on, null, { timeout: 10000 });
    case "read": return page.evaluate(step.on);
    case "check": sight.violations.push(...await check(page)); return null;
    case "shoot": await page.screenshot({ path: step.on, fullPage: Boolean(step.full) }); return null;
    case "paper": await page.pdf({ path: step.to, format: step.on }); return null;
    case "print": await page.emulateMedia({ media: "print" }); return null;
    case "reload": return reload(page);
    case "save": return save(page, step);
    case "width": await page.setViewportSize({ ...page.viewportSize(), width: Number(step.on) }); return null;
  }
  throw new Error(`there is no step "${step.do}"`);
}

// Reads the page anew and tells whether it asked before that, and what.
async function reload(page) {
  let asked = "";
  const yes = (d) => { asked = d.type(); return d.accept(); };
  page.on("dialog", yes);
  await page.reload();
  page.off("dialog", yes);
  return asked;
}

// Clicks on a link that saves a file, keeps the file, and tells its name.
async function save(page, step) {
  const [file] = await Promise.all([page.waitForEvent("download"), page.click(step.on)]);
  await file.saveAs(step.to);
  return file.suggestedFilename();
}

// The checker puts its own script into the page, which the page's policy does not
// concern, and needs scripts to run.
async function check(page) {
  await page.evaluate(fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
  const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  return found.violations.map((v) => ({
    rule: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 5).map((n) => `${n.html.slice(0, 200)} ${n.failureSummary}`),
  }));
}

async function look(browser, job) {
  const context = await browser.newContext({
    viewport: { width: job.width || 1280, height: job.height || 900 },
    colorScheme: job.dark ? "dark" : "light",
    hasTouch: Boolean(job.touch),
    isMobile: Boolean(job.touch),
    javaScriptEnabled: !job.no_script,
    reducedMotion: "reduce",
  });
  const page = await context.newPage();
  const sight = { requests: [], complaints: [], violations: [], values: [] };
  page.on("request", (r) => sight.requests.push(r.url()));
  page.on("console", (m) => { if (m.type() === "error" || m.type() === "warning") sight.complaints.push(m.text()); });
  page.on("pageerror", (e) => sight.complaints.push(String(e)));
  await page.goto("file://" + job.page);
  for (const step of job.steps || []) {
    const value = await act(page, step, sight);
    sight.values.push(value === undefined ? null : value);
  }
  await context.close();
  return sight;
}

async function main() {
  const browser = await chromium.launch({ executablePath: process.argv[2], args: flags });
  await answer(async (jobs) => {
    const sights = [], left = jobs.entries(); // of which each of the two takes the next
    const some = async () => { for (const [i, job] of left) sights[i] = await look(browser, job); };
    await Promise.all([some(), some()]);
    return sights;
  });
  await browser.close();
}

main().catch((e) => { console.error(e); process.exit(1); });
