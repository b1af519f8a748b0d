package golden

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"gridferry/cmd/cli"
	"gridferry/golden/outside"
	"gridferry/golden/web"
	"gridferry/plan/digest"
)

// asCommand has the test program be the command.
const asCommand = "GRIDFERRY_TEST_AS_COMMAND"

func TestMain(m *testing.M) {
	if os.Getenv(asCommand) != "" {
		cli.StopCleanly(os.Stderr)
		os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}
	os.Exit(m.Run())
}

// liveServer is the command "gridferry live", as a process.
type liveServer struct {
	address string
	command *exec.Cmd
	said    bytes.Buffer
}

func serveLive(t testing.TB, args ...string) *liveServer {
	t.Helper()
	outside.Short(t)
	s := &liveServer{command: exec.Command(os.Args[0], append([]string{"live"}, args...)...)}
	s.command.Env = append(os.Environ(), asCommand+"=1")
	s.command.Stderr = &s.said
	out, err := s.command.StdoutPipe()
	if err == nil {
		err = s.command.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.stop() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatalf("%v: %s", err, s.stop())
	}
	go io.Copy(io.Discard, out)
	s.address = strings.TrimSpace(line)
	return s
}

// stop is what Ctrl-C does.
func (s *liveServer) stop() string {
	if s.command.ProcessState == nil {
		_ = s.command.Process.Signal(syscall.SIGINT)
		_ = s.command.Wait()
	}
	return s.said.String()
}

// livePage is the page of a server, open in a browser, and the folder of its files.
type livePage struct {
	*web.Visit
	t      testing.TB
	server *liveServer
	folder string
	plan   string // the file
}

// upToDate holds when the picture is that of the texts, and nothing is on its way.
const upToDate = `live.state && live.state.good === live.state.version && document.documentElement.dataset.scene === live.state.version`

// openLive serves a copy of a demo plan and opens its page.
func openLive(t testing.TB, plan string, job web.Job, args ...string) *livePage {
	t.Helper()
	outside.Short(t)
	return openFolder(t, demosCopied(t), plan, job, args...)
}

func openFolder(t testing.TB, folder, plan string, job web.Job, args ...string) *livePage {
	t.Helper()
	p := &livePage{t: t, folder: folder, plan: filepath.Join(folder, plan)}
	p.server = serveLive(t, append([]string{p.plan}, args...)...)
	job.Page = p.server.address
	p.Visit = web.Open(t, job)
	p.wait(upToDate)
	return p
}

// demosCopied is a folder with the demo plans and all that they name.
func demosCopied(t testing.TB) string {
	t.Helper()
	folder := t.TempDir()
	if err := os.CopyFS(folder, os.DirFS(demoFolder)); err != nil {
		t.Fatal(err)
	}
	return folder
}

func (p *livePage) wait(expression string) {
	p.t.Helper()
	p.Do(web.Step{Do: "wait", On: expression})
}

// file is the text on disk.
func (p *livePage) file() string {
	p.t.Helper()
	text, err := os.ReadFile(p.plan)
	if err != nil {
		p.t.Fatal(err)
	}
	return string(text)
}

func (p *livePage) write(text string) {
	p.t.Helper()
	if err := os.WriteFile(p.plan, []byte(text), 0o666); err != nil {
		p.t.Fatal(err)
	}
}

// changed is the text on disk with something else in one place of it.
func (p *livePage) changed(old, new string) string {
	p.t.Helper()
	text := p.file()
	if strings.Count(text, old) != 1 {
		p.t.Fatalf("%q is not once in %s", old, p.plan)
	}
	return strings.Replace(text, old, new, 1)
}

const area = `document.querySelector('.editor:not([hidden]) textarea')`

// mark selects a text that is in the editor once, as a hand would before it types.
func (p *livePage) mark(page int, text string) {
	p.t.Helper()
	var count int
	p.Read(page, fmt.Sprintf(`(() => { const area = %s, text = %q; area.focus(); area.setSelectionRange(area.value.indexOf(text), area.value.indexOf(text) + text.length); return area.value.split(text).length - 1; })()`, area, text), &count)
	if count != 1 {
		p.t.Fatalf("%q is %d times in the editor", text, count)
	}
}

// types puts a text in the place of another, letter by letter.
func (p *livePage) types(page int, old, new string) {
	p.t.Helper()
	p.mark(page, old)
	p.Do(web.Step{Do: "type", On: new, Page: page}, web.Step{Do: "press", On: "Escape", Page: page})
}

func (p *livePage) text(page int) string {
	p.t.Helper()
	var text string
	p.Read(page, area+".value", &text)
	return text
}

// seen is what the view draws: the full slots of each grid and where their parts are.
type seenSlots struct {
	Grids  []seenGrid
	Camera map[string]any
}

type seenGrid struct {
	Name string
	Full []struct {
		Index int
		At    [3]float64
	}
}

func (p *livePage) seen(page int) seenSlots {
	p.t.Helper()
	var s seenSlots
	p.Read(page, "live.viewer.seen()", &s)
	return s
}

// ends looks at what the browser complained of and asked for.
func (p *livePage) ends(expected ...string) {
	p.t.Helper()
	sight := p.End()
	for _, complaint := range sight.Complaints {
		if !slices.ContainsFunc(expected, func(e string) bool { return strings.Contains(complaint, e) }) {
			p.t.Errorf("the browser complains: %s", complaint)
		}
	}
	for _, address := range sight.Requests {
		if !strings.HasPrefix(address, p.server.address) && !strings.HasPrefix(address, "blob:"+origin(p.server.address)) {
			p.t.Errorf("the page asks for %s", address)
		}
	}
	for _, v := range sight.Violations {
		p.t.Errorf("%s (%s): %s\n%s", v.Rule, v.Impact, v.Help, strings.Join(v.Nodes, "\n"))
	}
}

// origin is an address without its path.
func origin(address string) string {
	return address[:len("http://")+strings.Index(address[len("http://"):], "/")]
}

// A fault that is typed is found where the command finds it, and underlined there; the picture
// stays, in grey. When it is taken back, so is the finding.
func TestLiveFault(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{})
	p.types(0, "missing: B3", "missing: Z3")
	p.wait(`document.querySelector("#findings-list li[data-rule=slot-outside-grid]") && document.querySelector(".copy .found.error")`)
	text := p.text(0)
	other := filepath.Join(p.folder, "other.plan.yaml")
	if err := os.WriteFile(other, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	want := findingsOf(t, other)
	var got struct {
		Findings         []finding
		Underlined, Line string
		Greyed           bool
		Same             bool
	}
	const look = `(() => { const e = document.querySelector(".copy .found.error"), row = e.closest(".text-row");
  const number = [...document.querySelectorAll(".line-number")].find((n) => n.style.top === row.style.top);
  return { findings: live.state.findings, underlined: e.textContent, line: number.textContent, greyed: document.getElementById("view-pane").classList.contains("greyed"),
    same: live.state.good !== live.state.version && document.documentElement.dataset.scene === live.state.good }; })()`
	p.Read(0, look, &got)
	if len(want) != 1 || len(got.Findings) != 1 || got.Findings[0].Line != want[0].Line || got.Findings[0].Column != want[0].Column || got.Findings[0].Rule != want[0].Rule || got.Findings[0].Message != want[0].Message {
		t.Errorf("the page finds %+v, the command %+v", got.Findings, want)
	}
	if got.Underlined != "Z3" || !strings.HasSuffix(got.Line, fmt.Sprint(want[0].Line)) || !got.Greyed || !got.Same {
		t.Errorf("the page shows %+v", got)
	}
	p.mark(0, "missing: Z3")
	p.Do(web.Step{Do: "type", On: "missing: B3"}, web.Step{Do: "press", On: "Escape"})
	p.wait(upToDate + ` && !document.querySelector(".copy .found") && !document.getElementById("view-pane").classList.contains("greyed")`)
	if p.text(0) != p.file() {
		t.Error("the text is not as before")
	}
	p.ends()
}

// findingsOf is what the command finds in a plan.
func findingsOf(t *testing.T, plan string) []finding {
	t.Helper()
	var all []finding
	if out := run("check", plan, "--format", "json").stdout; json.Unmarshal([]byte(out), &all) != nil {
		t.Fatalf("no findings: %s", out)
	}
	return all
}

// The program that the page gives is the one that "write" writes, and "verify" finds nothing in it.
func TestLiveProgram(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{}, "--family", "st")
	var family string
	p.Read(0, `document.getElementById("family").value`, &family)
	if family != "st" {
		t.Errorf("the family is %s", family)
	}
	for _, family := range []string{"st", "listing", "iso6983"} {
		got := filepath.Join(t.TempDir(), "program")
		p.Do(web.Step{Do: "select", On: "#family", To: family}, web.Step{Do: "download", On: "#write", To: got})
		text, err := os.ReadFile(got)
		if err != nil {
			t.Fatal(err)
		}
		if want := mustRun(t, "write", p.plan, "--family", family, "-o", "-"); string(text) != want {
			t.Errorf("%s: the page's program is another than the command's", family)
		}
		mustRun(t, "verify", got, "--plan", p.plan, "--family", family)
	}
	p.ends()
}

// The page keeps nobody out: nothing is found by axe-core and html-validate, wide and narrow, light and
// dark, with findings and without, and nothing is cut off.
func TestLiveKeepsNobodyOut(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{})
	for i, f := range web.Validate(t, []byte(pageOf(t, p.server.address))) {
		t.Errorf("%d: %d:%d: %s [%s]", i, f.Line, f.Column, f.Message, f.Rule)
	}
	const cut = `document.documentElement.scrollWidth <= innerWidth`
	look := func(widths ...string) {
		for _, width := range widths {
			values := p.Do(web.Step{Do: "width", On: width}, web.Step{Do: "check"}, web.Step{Do: "read", On: cut})
			if string(values[2]) != "true" {
				t.Errorf("at %s px the page is wider than the window", width)
			}
		}
	}
	look("1280")
	text := p.changed("missing: B3", "missing: Z3")
	p.write(text)
	p.wait(fmt.Sprintf(`live.state.files[0].digest === %q`, digest.Of(text)))
	for _, scheme := range []string{"light", "dark"} {
		p.Do(web.Step{Do: "scheme", On: scheme})
		look("1280", "820", "390")
	}
	p.ends()
}

// pageOf is the page's own text.
func pageOf(t *testing.T, address string) string {
	t.Helper()
	answer, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		t.Fatalf("%s %v", answer.Status, err)
	}
	return string(text)
}
