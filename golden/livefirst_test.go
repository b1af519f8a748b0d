package golden

import (
	"path/filepath"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// A figure that is turned shows what it does, is in the text with all that stood around it, and in
// the file only when it is saved.
func TestLiveKnob(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	before := p.file()
	slots := func() (n int) {
		p.Read(0, `live.scene.grids.find((g) => g.name === "tray").count`, &n)
		return n
	}
	if n := slots(); n != 24 {
		t.Fatalf("the tray has %d slots", n)
	}
	p.Do(web.Step{Do: "click", On: "#knobs-tab"}, web.Step{Do: "click", On: `[data-knob="grids.tray.columns"] button:last-of-type`})
	p.wait(`live.scene.grids.find((g) => g.name === "tray").count === 28 && ` + area + `.value.includes("columns: 7") && ` + upToDate)
	if p.file() != before {
		t.Error("the file changed before anybody saved")
	}
	p.Do(web.Step{Do: "press", On: "Control+S", Answered: "/save"})
	p.wait(upToDate + ` && document.getElementById("save").disabled`)
	if want := strings.Replace(before, "columns: 6", "columns: 7", 1); p.file() != want {
		t.Errorf("the file is\n%s\nwanted\n%s", p.file(), want)
	}
	p.ends()
}

// Keys and names are offered at the caret, and taken without a mouse.
func TestLiveCompletion(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	p.mark(0, "part: cube\n    filled: all")
	p.Do(web.Step{Do: "type", On: "part: "}, web.Step{Do: "press", On: "Control+Space"}, web.Step{Do: "wait", On: `!document.getElementById("offers").hidden`}, web.Step{Do: "check"}, web.Step{Do: "press", On: "Enter"})
	p.wait(`document.getElementById("offers").hidden`)
	if text := p.text(0); !strings.Contains(text, "part: cube\n    missing: B3") {
		t.Errorf("the part's name was not taken:\n%s", text)
	}
	p.Do(web.Step{Do: "press", On: "Enter"}, web.Step{Do: "type", On: "fil"}, web.Step{Do: "wait", On: `!document.getElementById("offers").hidden`}, web.Step{Do: "press", On: "ArrowDown"}, web.Step{Do: "press", On: "Enter"})
	p.Do(web.Step{Do: "type", On: "all"}, web.Step{Do: "press", On: "Escape"})
	p.wait(upToDate + ` && ` + area + `.value.includes("filled: all")`)
	if text := p.text(0); text != p.file() {
		t.Errorf("the text is\n%s\nwanted\n%s", text, p.file())
	}
	p.ends()
}

// What a hint would write is one button, and takes the place of the letters that are wrong, not of the slots behind them.
func TestLiveHint(t *testing.T) {
	t.Parallel()
	p := openLive(t, "mortar-cubes.plan.yaml", web.Job{Flat: true})
	p.types(0, "      - rack", "      - rak A1:F4")
	p.wait(`document.querySelector("#findings-list .apply")`)
	p.Do(web.Step{Do: "click", On: "#findings-list .apply"})
	p.wait(area + `.value.includes("      - rack A1:F4\n") && !document.querySelector("#findings-list .apply")`)
	p.ends()
}

// A newcomer's first plan, from "gridferry new" to a program, on the page alone: look, make a mistake
// and mend it, turn a figure, save, write.
func TestLiveFirstPlan(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	folder := t.TempDir()
	mustRun(t, "new", filepath.Join(folder, "trial"))
	p := openFolder(t, filepath.Join(folder, "trial"), "first.plan.yaml", web.Job{})
	p.types(0, "from: tray", "from: tray A9")
	p.wait(`document.querySelector("#findings-list li[data-rule=slot-outside-grid]")`)
	p.Do(web.Step{Do: "click", On: "#write"}, web.Step{Do: "wait", On: `document.getElementById("spoken").textContent.startsWith("Nothing is written")`})
	p.types(0, "from: tray A9", "from: tray")
	p.wait(upToDate)
	p.Do(web.Step{Do: "click", On: "#knobs-tab"}, web.Step{Do: "click", On: `[data-knob="motion.approach"] button:last-of-type`})
	p.wait(upToDate + ` && !document.getElementById("save").disabled && ` + area + `.value.includes("from: tray ")`)
	program := filepath.Join(folder, "program")
	p.Do(web.Step{Do: "click", On: "#save", Answered: "/save"}, web.Step{Do: "wait", On: upToDate + ` && document.getElementById("save").disabled`}, web.Step{Do: "download", On: "#write", To: program})
	mustRun(t, "verify", program, "--plan", p.plan, "--family", "listing")
	p.ends()
}
