// Validates pages, a text each, by the recommended rules of html-validate and says
// what it found.
const answer = require("../outside/answer.js");
const { HtmlValidate } = require("html-validate");

const judge = new HtmlValidate({
  root: true,
  extends: ["html-validate:recommended"],
  rules: {
    "long-title": "off", // a title holds the plan's own, however long
    "no-trailing-whitespace": "off", // of texts that are shown as they are
  },
});

answer(async (page) => {
  const report = await judge.validateString(page);
  return report.results.flatMap((r) => r.messages.map((m) => ({ rule: m.ruleId, line: m.line, column: m.column, message: m.message })));
});
