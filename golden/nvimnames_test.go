package golden

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gridferry/golden/outside"
)

// neovim has a real editor do what a script says, with the server attached to every file that "open" opens.
func neovim(t *testing.T, folder, script string) string {
	t.Helper()
	outside.Short(t)
	editor, err := exec.LookPath("nvim")
	if err != nil {
		outside.Missing(t, err)
	}
	const before = `
local client = vim.lsp.start_client({name = "gridferry", cmd = {vim.env.SERVER, "lsp"}, root_dir = vim.fn.getcwd()})
function patient(what, ready)
  if not vim.wait(60000, ready, 20) then print("waited in vain for " .. what) vim.cmd("cquit") end
end
function open(file)
  vim.cmd("edit " .. file)
  vim.lsp.buf_attach_client(0, client)
  patient("the server", function() return #vim.lsp.buf_get_clients(0) > 0 end)
end
-- word puts the cursor on a text that is there once, so many characters in.
function word(text, behind)
  vim.fn.cursor(1, 1)
  vim.fn.search("\\V" .. text, "cW")
  vim.fn.cursor(0, vim.fn.col(".") + behind)
end
function findings() return vim.diagnostic.get(0) end
`
	file := filepath.Join(t.TempDir(), "session.lua")
	if err := os.WriteFile(file, []byte(before+script+"\nvim.cmd('qall!')\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(editor, "--headless", "--clean", "-c", "luafile "+file)
	cmd.Dir = folder
	cmd.Env = append(os.Environ(), asCommand+"=1", "SERVER="+os.Args[0], "XDG_STATE_HOME="+t.TempDir(), "XDG_DATA_HOME="+t.TempDir(), "XDG_CACHE_HOME="+t.TempDir())
	said, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("nvim: %v\n%s", err, said)
	}
	return strings.ReplaceAll(string(said), "\r", "")
}

// some copies a plan of the demo, and what it names, into a folder.
func some(t *testing.T, names ...string) string {
	t.Helper()
	folder := t.TempDir()
	for _, name := range names {
		text, err := os.ReadFile(filepath.Join("..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return folder
}

// TestNeovimRenames: the editor's own "rename" gives a grid another name in the plan and in its worklist, and a frame in the
// plan and in its cell; the plans that it saves make the same moves.
func TestNeovimRenames(t *testing.T) {
	folder := some(t, "worklist.plan.yaml", "worklist.cell.yaml", "worklist.csv", "worklist-rack-1.csv", "worklist-rack-2.csv", "worklist-rack-3.csv")
	before := run("moves", filepath.Join(folder, "worklist.plan.yaml"), "--format", "csv").stdout
	said := neovim(t, folder, `
open("worklist.plan.yaml")
for _, change in ipairs({{"  rack-1:", "nearest"}, {"frame: nest-1", "nook"}}) do
  word(change[1], #change[1] - 2)
  vim.lsp.buf.rename(change[2])
  patient(change[2], function() return vim.fn.search("\\V" .. change[2], "nw") > 0 end)
end
vim.cmd("wall")
for _, buffer in ipairs(vim.fn.getbufinfo({bufloaded = 1})) do print(vim.fn.fnamemodify(buffer.name, ":t")) end
`)
	for _, name := range []string{"worklist.plan.yaml", "worklist.cell.yaml", "worklist.csv"} {
		if !strings.Contains(said, name) {
			t.Errorf("%s was not edited: %s", name, said)
		}
	}
	after := run("moves", filepath.Join(folder, "worklist.plan.yaml"), "--format", "csv").stdout
	if strings.Contains(after, "rack-1 ") || !strings.Contains(after, "nearest ") {
		t.Error("the grid has its old name")
	}
	if back := strings.NewReplacer("nearest ", "rack-1 ", ",nook,", ",nest-1,").Replace(after); back != before {
		t.Error("with other names, the plan makes other moves")
	}
}

// TestNeovimAppliesHints: the editor offers what a hint would write, and writes it.
func TestNeovimAppliesHints(t *testing.T) {
	folder := some(t, "mortar-cubes.plan.yaml", "bench.cell.yaml")
	plan := filepath.Join(folder, "mortar-cubes.plan.yaml")
	right, err := os.ReadFile(plan)
	if err != nil {
		t.Fatal(err)
	}
	wrong := strings.Replace(string(right), "      - rack", "      - rak", 1)
	if err := os.WriteFile(plan, []byte(wrong), 0o600); err != nil {
		t.Fatal(err)
	}
	said := neovim(t, folder, `
open("mortar-cubes.plan.yaml")
patient("the finding", function() return #findings() > 0 end)
print(findings()[1].message .. "\n")
vim.ui.select = function(items, options, choose)
  print(options.format_item(items[1]) .. "\n")
  choose(items[1])
end
word("- rak", 3)
vim.lsp.buf.code_action()
patient("the edit", function() return vim.fn.search("- rack", "nw") > 0 end)
patient("no finding", function() return #findings() == 0 end)
vim.cmd("wall")
`)
	for _, want := range []string{`there is no grid "rak"`, `did you mean "rack"?`, `write "rack"`} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said in %s", want, strconv.Quote(said))
		}
	}
	if after, err := os.ReadFile(plan); err != nil || string(after) != string(right) {
		t.Errorf("%v\n%s", err, after)
	}
}
