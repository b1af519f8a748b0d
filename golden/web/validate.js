// Validates the page on standard input by the recommended rules of html-validate
// and prints what it found as JSON.
const fs = require("fs");
const { HtmlValidate } = require("html-validate");

const judge = new HtmlValidate({
  root: true,
  extends: ["html-validate:recommended"],
  rules: {
    "long-title": "off", // a title holds the plan's own, however long
    "no-trailing-whitespace": "off", // of texts that are shown as they are
  },
});

async function main() {
  const report = await judge.validateString(fs.readFileSync(0, "utf8"));
  const found = report.results.flatMap((r) => r.messages.map((m) => ({ rule: m.ruleId, line: m.line, column: m.column, message: m.message })));
  process.stdout.write(JSON.stringify(found));
}

main().catch((e) => { console.error(e); process.exit(1); });
