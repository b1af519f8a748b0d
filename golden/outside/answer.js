// Answers every line of JSON on standard input with a line of JSON, until there are
// no more or one cannot be answered.
const { createInterface } = require("readline");

module.exports = async (answer) => {
  for await (const line of createInterface({ input: process.stdin, crlfDelay: Infinity })) {
    process.stdout.write(JSON.stringify(await answer(JSON.parse(line))) + "\n");
  }
};
