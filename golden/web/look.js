// Opens pages in a real browser, does what it is told there, and says what it saw.
// A question is a list of jobs, of which two are done at a time, or one turn of a visit,
// whose pages stay open from turn to turn; see Job, Sight and Visit in this folder.
const answer = require("../outside/answer.js");
const fs = require("fs");
const { chromium } = require("playwright-core");

// WebGL is done by software, which is as on any other machine.
const flags = [
  "--no-sandbox", "--disable-gpu", "--enable-unsafe-swiftshader", "--disable-quic", "--no-first-run",
  "--disable-background-networking", "--disable-component-update", "--disable-sync",
];

const patience = { timeout: 60000 }; // of a machine that has much else to do

// acts is what each step does on its page; where it gives a value, the step has it.
const acts = {
  open: (page, step) => page.goto(step.on),
  reload: async (page) => {
    let asked = "";
    const yes = (d) => { asked = d.type(); return d.accept(); };
    page.on("dialog", yes);
    await page.reload();
    page.off("dialog", yes);
    return asked;
  },
  press: (page, step) => page.keyboard.press(step.on),
  type: (page, step) => page.keyboard.type(step.on),
  hover: (page, step) => page.hover(step.on, patience),
  focus: (page, step) => page.focus(step.on, patience),
  click: (page, step) => page.click(step.on, patience),
  fill: (page, step) => page.fill(step.on, step.to || "", patience),
  select: (page, step) => page.selectOption(step.on, step.to, patience),
  drag: async (page, step) => {
    const [x, y] = await middle(page, step.on);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + step.by[0], y + step.by[1], { steps: 8 });
    await page.mouse.up();
  },
  wheel: async (page, step) => {
    await page.mouse.move(...await middle(page, step.on));
    await page.mouse.wheel(step.by[0], step.by[1]);
  },
  download: async (page, step) => {
    const [file] = await Promise.all([page.waitForEvent("download", patience), page.click(step.on, patience)]);
    await file.saveAs(step.to);
    return file.suggestedFilename();
  },
  wait: until,
  read: (page, step) => page.evaluate(step.on),
  memory: async (page) => {
    const tools = await page.context().newCDPSession(page);
    await tools.send("HeapProfiler.collectGarbage");
    return (await tools.send("Runtime.getHeapUsage")).usedSize;
  },
  check: async (page, step, sight) => void sight.violations.push(...await check(page, step.on)),
  shoot: async (page, step) => void await page.screenshot({ path: step.on, fullPage: Boolean(step.full) }),
  paper: async (page, step) => void await page.pdf({ path: step.to, format: step.on }),
  print: (page) => page.emulateMedia({ media: "print" }),
  scheme: (page, step) => page.emulateMedia({ colorScheme: step.on }),
  width: (page, step) => page.setViewportSize({ ...page.viewportSize(), width: Number(step.on) }),
};

// A browser without a graphics processor reads every picture back, and says of each that it is slow.
const complains = (m) => ["error", "warning"].includes(m.type()) && !m.text().includes("GPU stall due to ReadPixels");

const worth = new Set(["read", "download", "reload", "memory"]); // the steps whose values are told

async function middle(page, selector) {
  const box = await (await page.waitForSelector(selector, patience)).boundingBox();
  return [box.x + box.width / 2, box.y + box.height / 2];
}

// until asks again and again whether an expression holds: a page whose policy is strict lets
// nobody wait inside it.
async function until(page, step) {
  const end = Date.now() + patience.timeout;
  for (let failed = "";; await new Promise((done) => setTimeout(done, 20))) {
    try {
      if (await page.evaluate(step.on)) return;
      failed = "";
    } catch (e) {
      failed = `: ${e}`; // what it is about may not be there yet
    }
    if (Date.now() > end) throw new Error(`this did not come to hold: ${step.on}${failed}`);
  }
}

// The checker puts its own script into the page, which the page's policy does not
// concern, and needs scripts to run. What it would fetch before it looks, for rules about sound
// and about orientation that are not asked, takes a fifth of its time.
async function check(page, on) {
  if (!await page.evaluate(() => "axe" in window)) await page.evaluate(fs.readFileSync(require.resolve("axe-core/axe.min.js"), "utf8"));
  const found = await page.evaluate((on) => {
    if (on && !document.querySelector(on)) throw new Error(`there is no ${on}`);
    return window.axe.run(on || document, { resultTypes: ["violations"], preload: false });
  }, on);
  return found.violations.map((v) => ({
    rule: v.id, impact: v.impact, help: v.help, nodes: v.nodes.slice(0, 5).map((n) => `${n.html.slice(0, 200)} ${n.failureSummary}`),
  }));
}

// noWebGL makes a page's browser one without WebGL.
function noWebGL() {
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, ...rest) { return kind.startsWith("webgl") ? null : get.call(this, kind, ...rest); };
}

// visit is pages that have a context in common, and what was seen there.
class Visit {
  constructor(context) {
    this.context = context;
    this.pages = [];
    this.sight = { requests: [], complaints: [], violations: [], values: [] };
  }

  static async begin(browser, job) {
    const context = await browser.newContext({
      viewport: { width: job.width || 1280, height: job.height || 900 },
      colorScheme: job.dark ? "dark" : "light",
      hasTouch: Boolean(job.touch),
      isMobile: Boolean(job.touch),
      javaScriptEnabled: !job.no_script,
      reducedMotion: job.moving ? "no-preference" : "reduce",
      acceptDownloads: true,
    });
    if (job.flat) await context.addInitScript(noWebGL);
    return new Visit(context);
  }

  // page is the one of a number; the first step that names it opens it.
  async page(n) {
    if (!this.pages[n]) {
      const page = this.pages[n] = await this.context.newPage();
      page.on("request", (r) => this.sight.requests.push(r.url()));
      page.on("console", (m) => { if (complains(m)) this.sight.complaints.push(m.text()); });
      page.on("pageerror", (e) => this.sight.complaints.push(String(e)));
    }
    return this.pages[n];
  }

  // act gives a value for each step. One that says what has to be answered waits for it.
  async act(steps) {
    const values = [];
    for (const step of steps) {
      if (!acts[step.do]) throw new Error(`there is no step "${step.do}"`);
      const page = await this.page(step.page || 0);
      const answered = step.answered && page.waitForResponse((r) => r.url().includes(step.answered), patience);
      const [value] = await Promise.all([acts[step.do](page, step, this.sight), answered]);
      values.push(worth.has(step.do) && value !== undefined ? value : null);
    }
    return values;
  }

  end() { return this.context.close(); }
}

async function look(browser, job) {
  const visit = await Visit.begin(browser, job);
  try {
    visit.sight.values = (await visit.act([{ do: "open", on: job.page }, ...job.steps || []])).slice(1);
  } finally {
    await visit.end();
  }
  return visit.sight;
}

// all looks at pages, two at a time.
async function all(browser, jobs) {
  const sights = [], left = jobs.entries(); // of which each of the two takes the next
  const some = async () => { for (const [i, job] of left) sights[i] = await look(browser, job); };
  await Promise.all([some(), some()]);
  return sights;
}

const visits = new Map(); // that are open, by number

// turn begins a visit, goes on with it, or ends it. What goes wrong at a step is told:
// the browser and other visits go on.
async function turn(browser, { number, begin, steps, end }) {
  if (begin) visits.set(number, await Visit.begin(browser, begin));
  const visit = visits.get(number);
  if (end) {
    visits.delete(number);
    await visit.end();
    return visit.sight;
  }
  try {
    return { values: await visit.act(steps || []) };
  } catch (e) {
    return { failed: String(e), complaints: visit.sight.complaints };
  }
}

async function main() {
  const browser = await chromium.launch({ executablePath: process.argv[2], args: flags });
  await answer((question) => (Array.isArray(question) ? all(browser, question) : turn(browser, question)));
  await browser.close();
}

main().catch((e) => { console.error(e); process.exit(1); });
