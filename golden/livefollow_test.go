package golden

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"gridferry/golden/web"
	"gridferry/plan/digest"
)

// What somebody else wrote meanwhile is not written over before the page has asked.
func TestLiveConflict(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	p.types(0, "approach: 70", "approach: 72")
	theirs := p.changed("near: 80", "near: 81")
	p.write(theirs)
	p.wait(`!document.getElementById("notice").hidden`)
	mine := p.text(0)
	for _, step := range []struct{ answer, text, disk string }{
		{"look", mine, theirs},
		{"mine", mine, mine},
	} {
		p.Do(web.Step{Do: "click", On: "#save", Answered: "/save"}, web.Step{Do: "wait", On: `document.getElementById("conflict").open`}, web.Step{Do: "check"},
			web.Step{Do: "click", On: fmt.Sprintf("#conflict button[value=%s]", step.answer)}, web.Step{Do: "wait", On: `!document.getElementById("conflict").open`})
		if step.answer == "mine" {
			p.wait(upToDate + ` && document.getElementById("save").disabled && document.getElementById("notice").hidden`)
		}
		if p.text(0) != step.text || p.file() != step.disk {
			t.Errorf("%s: the page has\n%s\nand the file\n%s", step.answer, p.text(0), p.file())
		}
	}
	p.types(0, "approach: 72", "approach: 74")
	theirs = p.changed("near: 80", "near: 82")
	p.write(theirs)
	p.wait(`!document.getElementById("notice").hidden`)
	p.Do(web.Step{Do: "press", On: "Control+S", Answered: "/save"}, web.Step{Do: "click", On: "#conflict button[value=theirs]"})
	p.wait(upToDate + ` && document.getElementById("save").disabled`)
	if p.text(0) != theirs || p.file() != theirs {
		t.Errorf("theirs: the page has\n%s\nand the file\n%s", p.text(0), p.file())
	}
	p.ends("409")
}

// Two pages of one server show the same: what one saves, the other has.
func TestLiveTwoPages(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	p.Do(web.Step{Do: "open", On: p.server.address, Page: 1}, web.Step{Do: "wait", On: upToDate, Page: 1})
	p.types(0, "columns: 6\n    pitch: [65, 65]", "columns: 5")
	p.Do(web.Step{Do: "press", On: "Enter"}, web.Step{Do: "type", On: "pitch: [65, 65]"}, web.Step{Do: "press", On: "Escape"})
	p.wait(`live.scene.grids.find((g) => g.name === "tray").count === 20 && ` + upToDate)
	if got := p.text(1); got != p.file() {
		t.Errorf("the other page has what was not saved:\n%s", got)
	}
	p.Do(web.Step{Do: "press", On: "Control+S", Answered: "/save"}, web.Step{Do: "wait", On: `live.scene.grids.find((g) => g.name === "tray").count === 20 && ` + upToDate, Page: 1})
	if got := p.text(1); got != p.file() || got != p.text(0) {
		t.Errorf("the other page has\n%s\nthe file\n%s", got, p.file())
	}
	p.ends()
}

// After 200 changes in some 10 s the page has the last one, and answers.
func TestLiveManyChanges(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	first := p.file()
	for i := range 200 {
		text := strings.Replace(first, "approach: 70", fmt.Sprintf("approach: %d", 60+i%40), 1)
		if i%7 == 4 {
			text = strings.Replace(text, "missing: B3", "missing: Z3", 1)
		}
		p.write(fmt.Sprintf("%s# change %d\n", text, i))
		time.Sleep(50 * time.Millisecond)
	}
	p.wait(upToDate + fmt.Sprintf(` && live.state.files[0].digest === %q && %s.value.endsWith("# change 199\n")`, digest.Of(p.file()), area))
	p.ends()
}

// A plan that is deleted under the page is told, and what was shown stays; when it is put back,
// the page goes on.
func TestLiveGone(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	text := p.file()
	if err := os.Remove(p.plan); err != nil {
		t.Fatal(err)
	}
	p.wait(`!document.getElementById("notice").hidden`)
	if p.text(0) != text {
		t.Error("the text went with the file")
	}
	p.write(strings.Replace(text, "columns: 6", "columns: 5", 1))
	p.wait(`document.getElementById("notice").hidden && live.scene.grids.find((g) => g.name === "tray").count === 20 && ` + upToDate)
	// Half written, it names no cell; whose text stays on the page.
	p.write("")
	p.wait(`live.state.files[0].text === "" && live.state.findings.length > 0 && document.querySelectorAll("#file-tabs [role=tab]").length === 2`)
	p.write(text)
	p.wait(upToDate + ` && live.scene.grids.find((g) => g.name === "tray").count === 24`)
	p.ends()
}

// A page whose server stops keeps its text and says so; the page of another server does not take it.
func TestLiveServerStops(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	p.types(0, "approach: 70", "approach: 71")
	text := p.text(0)
	if said := p.server.stop(); strings.Contains(said, "error") {
		t.Errorf("the server says %s", said)
	}
	p.wait(`document.documentElement.dataset.link === "lost" && !document.getElementById("notice").hidden`)
	port := p.server.address[strings.LastIndex(origin(p.server.address), ":")+1:]
	again := serveLive(t, p.plan, "--port", port[:strings.Index(port, "/")])
	p.Do(web.Step{Do: "open", On: again.address, Page: 1}, web.Step{Do: "wait", On: upToDate, Page: 1})
	if p.text(0) != text || p.text(1) != p.file() {
		t.Errorf("the page has\n%s\nthe new one\n%s", p.text(0), p.text(1))
	}
	for _, complaint := range p.End().Complaints {
		if !strings.Contains(complaint, "ERR_CONNECTION_REFUSED") && !strings.Contains(complaint, "ERR_INCOMPLETE_CHUNKED_ENCODING") && !strings.Contains(complaint, "403") && !strings.Contains(complaint, "404") {
			t.Errorf("the browser complains: %s", complaint)
		}
	}
}
