package lsp

import (
	"context"
	"errors"
	"fmt"

	"github.com/creachadair/jrpc2"
)

// feature is one method of the protocol. Where the editor has to know that there is it, a key of the server's capabilities says so.
type feature struct {
	capability string
	options    any
	answer     func(*Server, context.Context, *jrpc2.Request) (any, error)
}

// features is all there are.
var features = map[string]feature{
	"initialized":             {answer: tell((*Server).initialized)},
	"shutdown":                {answer: ask((*Server).shutdown)},
	"exit":                    {answer: tell((*Server).exit)},
	"$/cancelRequest":         {answer: tell((*Server).cancelRequest)},
	"textDocument/didOpen":    {"textDocumentSync", map[string]any{"openClose": true, "change": 2, "save": true}, tell((*Server).didOpen)},
	"textDocument/didChange":  {answer: tell((*Server).didChange)},
	"textDocument/didSave":    {answer: tell((*Server).didSave)},
	"textDocument/didClose":   {answer: tell((*Server).didClose)},
	"textDocument/completion": {"completionProvider", map[string]any{"triggerCharacters": []string{" ", ".", "[", "{", ","}}, ask((*Server).completion)},
	"textDocument/hover":      {"hoverProvider", true, ask((*Server).hover)},
	"textDocument/formatting": {"documentFormattingProvider", true, ask((*Server).formatting)},

	"textDocument/definition":        {"definitionProvider", true, ask((*Server).definition)},
	"textDocument/references":        {"referencesProvider", true, ask((*Server).references)},
	"textDocument/documentHighlight": {"documentHighlightProvider", true, ask((*Server).highlight)},
	"textDocument/prepareRename":     {answer: ask((*Server).prepareRename)},
	"textDocument/rename":            {"renameProvider", map[string]any{"prepareProvider": true}, ask((*Server).rename)},
	"textDocument/codeAction":        {"codeActionProvider", map[string]any{"codeActionKinds": []string{quickFix}}, ask((*Server).codeAction)},
	"textDocument/codeLens":          {"codeLensProvider", map[string]any{}, ask((*Server).codeLens)},
	"textDocument/inlayHint":         {"inlayHintProvider", true, ask((*Server).inlayHint)},
	"textDocument/foldingRange":      {"foldingRangeProvider", true, ask((*Server).foldingRange)},
	"textDocument/documentSymbol":    {"documentSymbolProvider", true, ask((*Server).documentSymbol)},
	"workspace/symbol":               {"workspaceSymbolProvider", true, ask((*Server).workspaceSymbol)},
}

// ask makes a request of a function.
func ask[P, R any](f func(*Server, context.Context, *P) (R, error)) func(*Server, context.Context, *jrpc2.Request) (any, error) {
	return func(s *Server, ctx context.Context, r *jrpc2.Request) (any, error) {
		p := new(P)
		if err := r.UnmarshalParams(p); err != nil {
			return nil, err
		}
		answer, err := f(s, ctx, p)
		if err == nil && ctx.Err() == nil {
			return answer, nil
		}
		if ctx.Err() != nil {
			return nil, jrpc2.Errorf(requestCancelled, "cancelled")
		}
		if coded := (*jrpc2.Error)(nil); !errors.As(err, &coded) {
			err = jrpc2.Errorf(jrpc2.InternalError, "%v", err)
		}
		return nil, err
	}
}

// tell makes a notification of a function: its error goes nowhere.
func tell[P any](f func(*Server, context.Context, *P) error) func(*Server, context.Context, *jrpc2.Request) (any, error) {
	return ask(func(s *Server, ctx context.Context, p *P) (any, error) { return nil, f(s, ctx, p) })
}

// invalid is the error of a request whose parameters do not fit.
func invalid(format string, args ...any) error {
	return jrpc2.Errorf(jrpc2.InvalidParams, "%s", fmt.Sprintf(format, args...))
}
