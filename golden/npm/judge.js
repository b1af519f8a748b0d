// Reads word-address programs, a text each, and says what two parsers from outside
// the project make of each line:
//
//   grammar  npm gcode 0.4.0, a strict grammar: fed without blanks and
//            comments, upper case; it wants digits on both sides of a point
//   tokens   npm gcode-parser 2.2.0, a tokenizer that drops what it does not
//            know: held to having covered every character
//
// Each reading has the words, the position that follows from them, or an error.
'use strict';

const answer = require('../outside/answer.js');
const grammar = require('gcode/parser.js'); // the package's main file does not load on Node 20
const { parseLine } = require('gcode-parser');

const axes = ['X', 'Y', 'Z', 'A', 'B', 'C'];

// bare removes comments, blanks and the block delete mark.
function bare(line) {
  const text = line.replace(/\([^()]*\)/g, '').replace(/[ \t]/g, '').toUpperCase();
  if (/[()]/.test(text)) throw new Error('a comment is open, closed twice or nested');
  return text.replace(/^\//, '');
}

function byGrammar(line) {
  const parsed = grammar.parse(bare(line));
  for (const [letter, value] of parsed.words) {
    if (typeof value !== 'number') throw new Error(`${letter} has no plain number`);
  }
  return parsed.words;
}

// whole cuts a bare line into words by the written number form and the letters
// of NISTIR 6556, Table 3 (X1E-5 would pass as X1 and E-5), and refuses a
// line that is not covered.
function whole(text) {
  const words = text.match(/[ABCDFGHIJKLMNPQRSTXYZ][+-]?(?:\d+\.?\d*|\.\d+)/g) || [];
  if (words.join('') !== text) throw new Error(`not every character of "${text}" belongs to a word`);
  return words.filter((w) => w[0] !== 'N').map((w) => [w[0], Number(w.slice(1))]);
}

function byTokens(line) {
  const want = whole(bare(line));
  const parsed = parseLine(line.replace(/^[ \t]*\//, ''));
  if (parsed.cmds || parsed.err || parsed.cs !== undefined) throw new Error('read as something else than words');
  if (JSON.stringify(parsed.words) !== JSON.stringify(want)) {
    throw new Error(`read as ${JSON.stringify(parsed.words)}, the line has ${JSON.stringify(want)}`);
  }
  return parsed.words;
}

// noRepeats holds the repetition limit of NISTIR 6556, 3.3.5, that neither
// parser knows.
function noRepeats(words) {
  const seen = new Set();
  for (const [letter] of words) {
    if (letter === 'G' || letter === 'M') continue;
    if (seen.has(letter)) throw new Error(`${letter} stands twice`);
    seen.add(letter);
  }
}

// Track follows the axis words under G20, G21, G90 and G91.
class Track {
  constructor() {
    this.relative = false;
    this.scale = 1;
    this.at = {};
  }

  follow(words) {
    for (const [letter, value] of words) if (letter === 'G') this.mode(value);
    for (const [letter, value] of words) {
      if (axes.includes(letter)) this.step(letter, value * ('XYZ'.includes(letter) ? this.scale : 1));
    }
    return { ...this.at };
  }

  mode(value) {
    if (value === 90 || value === 91) this.relative = value === 91;
    if (value === 20 || value === 21) this.scale = value === 20 ? 25.4 : 1;
    if ([10, 28, 30, 53, 92].includes(Math.floor(value))) throw new Error(`G${value} gives axis words another meaning: no position`);
  }

  step(letter, value) {
    this.at[letter] = value + (this.relative ? this.at[letter] || 0 : 0);
  }
}

function reading(parse, track, line) {
  try {
    const words = parse(line);
    noRepeats(words);
    return { words, position: track.follow(words) };
  } catch (e) {
    return { words: [], position: {}, error: e.message };
  }
}

function judge(text) {
  const tracks = [new Track(), new Track()];
  const lines = [];
  text.split(/\r\n|\r|\n/).forEach((line, i) => {
    if (line.trim() === '' || line.trim() === '%') return;
    lines.push({
      line: i + 1,
      text: line,
      grammar: reading(byGrammar, tracks[0], line),
      tokens: reading(byTokens, tracks[1], line),
    });
  });
  return { lines };
}

answer(judge);
