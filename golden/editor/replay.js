// Edits files at random in a client made of Microsoft's packages for the Language Server Protocol, as an editor would:
//
//   vscode-languageserver-protocol 3.18.5      the messages and their stream
//   vscode-languageserver-textdocument 1.0.16  what becomes of a text by incremental changes
//
// A question is the server's command, the files with their texts, a seed, how many edits, and at how many of them what the
// server has said is to be told, with the texts at that moment.
'use strict';

const { spawn } = require('child_process');
const { pathToFileURL } = require('url');
const answer = require('../outside/answer.js');
const lsp = require('vscode-languageserver-protocol/node');
const { TextDocument } = require('vscode-languageserver-textdocument');

// numbers gives the same ones for the same seed (xorshift32, Marsaglia 2003, from memory).
function numbers(seed) {
  let x = seed | 1;
  return (below) => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) % below;
  };
}

const pieces = [' ', '  ', '\n', '\n  ', ': ', ', ', '- ', '#', '[', ']', '{', '}', '"', "'", '&a', '*a', '0', '7', '-1', '1e9', 'A1', 'B2:C3', 'tray', 'é', '𝔸', '|', '\r\n', '\t', 'rows', 'odd: 1\n'];

class Session {
  constructor(question) {
    this.random = numbers(question.seed);
    this.docs = question.files.map((f) => ({ ...f, uri: pathToFileURL(f.path).href, said: null }));
    const server = spawn(question.command, ['lsp'], { stdio: ['pipe', 'pipe', 'inherit'] });
    this.gone = new Promise((resolve) => server.on('exit', resolve));
    this.connection = lsp.createProtocolConnection(new lsp.StreamMessageReader(server.stdout), new lsp.StreamMessageWriter(server.stdin));
    this.connection.onNotification(lsp.PublishDiagnosticsNotification.type, (p) => this.heard(p));
    this.connection.listen();
    this.wake = () => {};
  }

  heard(said) {
    const doc = this.docs.find((d) => d.uri === said.uri);
    if (doc) doc.said = said;
    this.wake();
  }

  async open() {
    await this.connection.sendRequest(lsp.InitializeRequest.type, { processId: null, rootUri: null, capabilities: {} });
    await this.connection.sendNotification(lsp.InitializedNotification.type, {});
    for (const d of this.docs) {
      d.document = TextDocument.create(d.uri, 'yaml', 1, d.text);
      await this.connection.sendNotification(lsp.DidOpenTextDocumentNotification.type, {
        textDocument: { uri: d.uri, languageId: 'yaml', version: 1, text: d.text },
      });
    }
  }

  // change is one at random: something put in, taken out, or put in another place.
  change(document) {
    const length = document.getText().length;
    const from = this.random(length + 1);
    const to = Math.min(length, from + (this.random(3) ? 0 : this.random(12)));
    let text = this.random(3) ? pieces[this.random(pieces.length)] : '';
    if (!this.random(8)) {
      const at = this.random(length + 1);
      text = document.getText().slice(at, at + this.random(40));
    }
    // A position in the middle of a character is none: editors do not send such.
    const range = { start: document.positionAt(whole(document, from)), end: document.positionAt(whole(document, to)) };
    return { range, text: text.replace(/[\ud800-\udfff]/g, '') };
  }

  async edit() {
    const d = this.docs[this.random(4) ? 0 : this.random(this.docs.length)];
    const version = d.document.version + 1;
    const changes = [];
    const take = (change) => {
      changes.push(change);
      d.document = TextDocument.update(d.document, [change], version);
    };
    if (this.random(12) === 0) {
      take({ text: d.text }); // what was saved, all at once
    } else {
      for (let n = 1 + (this.random(5) ? 0 : 2); n > 0; n--) take(this.change(d.document));
    }
    await this.connection.sendNotification(lsp.DidChangeTextDocumentNotification.type, {
      textDocument: { uri: d.uri, version }, contentChanges: changes,
    });
  }

  // settled waits for what the server says of the last versions.
  async settled() {
    while (!this.docs.every((d) => d.said && d.said.version === d.document.version)) {
      await new Promise((resolve, reject) => {
        const late = setTimeout(() => reject(new Error('the server says nothing of the last version')), 60_000);
        this.wake = () => { clearTimeout(late); resolve(); };
      });
    }
    return this.docs.map((d) => ({ path: d.path, text: d.document.getText(), diagnostics: d.said.diagnostics }));
  }

  async close() {
    await this.connection.sendRequest(lsp.ShutdownRequest.type);
    await this.connection.sendNotification(lsp.ExitNotification.type);
    return this.gone;
  }
}

function whole(document, offset) {
  const text = document.getText();
  const splits = (i) => /[\ud800-\udbff]/.test(text[i - 1] ?? '') || (text[i - 1] === '\r' && text[i] === '\n');
  return offset > 0 && offset < text.length && splits(offset) ? offset - 1 : offset;
}

answer(async (question) => {
  const session = new Session(question);
  await session.open();
  const moments = [await session.settled()];
  const chosen = new Set([question.edits]);
  while (chosen.size < Math.min(question.moments, question.edits)) chosen.add(1 + session.random(question.edits));
  for (let n = 1; n <= question.edits; n++) {
    await session.edit();
    if (chosen.has(n)) moments.push(await session.settled());
  }
  return { moments, status: await session.close() };
});
