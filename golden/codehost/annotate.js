// Prints findings as GitHub's own library for actions does.
const answer = require("../outside/answer.js");

answer(async ({ severity, message, properties }) => {
  const core = await import("@actions/core");
  const write = process.stdout.write;
  let said = "";
  process.stdout.write = (text) => {
    said += text;
    return true;
  };
  try {
    core[severity](message, properties);
  } finally {
    process.stdout.write = write;
  }
  return said;
});
