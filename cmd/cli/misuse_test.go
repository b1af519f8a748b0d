package cli

import (
	"strings"
	"testing"
)

// TestMisuseIsReportedInOurWords: what is wrong, what was wanted, and where to look.
func TestMisuseIsReportedInOurWords(t *testing.T) {
	for line, want := range map[string]string{
		"time p.yaml --from x":          `--from is "x", wanted a whole number`,
		"write p.yaml --famly x":        `"gridferry write" has no flag --famly, did you mean --family?`,
		"version --bogus":               `"gridferry version" has no flag --bogus`,
		"chek p.yaml":                   `there is no command "chek", did you mean "check"?`,
		"somethingelse":                 `there is no command "somethingelse"`,
		"check p.yaml --slots x.yaml":   `"gridferry check" wants one PLAN, found 2: write --slots=FILE with an equals sign`,
		"check":                         `"gridferry check" wants one PLAN, found 0: gridferry check PLAN|FOLDER...`,
		"moves p.yaml q.yaml":           `"gridferry moves" wants one PLAN, found 2: gridferry moves PLAN [flags]`,
		"check p.yaml --color mauve":    `--color is "mauve", wanted one of auto, always, never`,
		"check --format xml p.yaml":     `--format is "xml", wanted one of text, json`,
		"families show listing another": `"gridferry families show" wants 1 argument, found 2: gridferry families show NAME|FOLDER [flags]`,
		"families lst":                  `there is no command "lst", did you mean "list"?`,
		"families try":                  `"gridferry families try" wants 1 or 2 arguments, found 0: gridferry families try FOLDER|NAME [PLAN] [flags]`,
		"fit frame":                     `"gridferry fit" wants 2 arguments, found 1: gridferry fit frame|tool|grid FILE [flags]`,
		"verify":                        `"gridferry verify" wants 1 argument or more, found 0: gridferry verify PROGRAM... --plan PLAN`,
		"version x":                     `"gridferry version" wants no argument, found 1`,
		"check --rules p.yaml":          `--rules takes no PLAN, found "p.yaml"`,
		"write p.yaml":                  `"gridferry write" needs --family: gridferry write PLAN --family NAME|FOLDER [-o FOLDER|-] [flags]; "gridferry families list" names the shipped families`,
		"write p.yaml --family=":        `"gridferry write" needs --family: `,
		"vary p.yaml --output=":         `"gridferry vary" needs --family and --output: gridferry vary PLAN --family NAME|FOLDER -o FOLDER [flags]; `,
		"verify a.nc --family st":       `"gridferry verify" needs --plan: gridferry verify PROGRAM... --plan PLAN --family NAME|FOLDER [flags]` + "\n",
		"draw p.yaml":                   `"gridferry draw" needs --output: gridferry draw PLAN -o FILE.svg|- [flags]` + "\n",
		"write p.yaml --family":         `--family needs a value: name of a shipped family`,
		"write p.yaml -z":               `"gridferry write" has no flag -z`,
		"write p.yaml --max-output x":   `gridferry: --max-output: found "x", wanted a size from 1 byte to 1000GB, such as 64MB`,
		"check p.yaml --prove-out=soon": `--prove-out is "soon", wanted true, false or nothing`,
		"check p.yaml --missing B3":     `--missing is "B3", wanted a grid and its slots, such as "tray B3"`,
		"sheet p.yaml --contents=x.csv": `--contents is "x.csv", wanted a grid and its file, such as "tray samples.csv"`,
		"vary p.yaml --filled=":         `--filled is "", wanted a grid and its slots, such as "tray A1:B6"`,
		"explain p.yaml --plan-line 0":  `--plan-line is 0, wanted 1 or more`,
		"help chek":                     `there is no command "chek", did you mean "check"?`,
		"help families cop":             `there is no command "cop", did you mean "copy"?`,
		"families cop":                  `there is no command "cop", did you mean "copy"?`,
		"completion bsh":                `there is no command "bsh": there are bash, fish, `,
		"completion bash x":             `"gridferry completion bash" wants no argument, found 1`,
		"version --version":             `"gridferry version" has no flag --version`,
		"families fields dwel":          `there is no block "dwel": did you mean "dwell"?`,
		"families fields nothing-of-it": `there is no block "nothing-of-it": there are begin, `,
		"families show ./none":          `there is no family folder "./none": "gridferry families copy" makes one`,
		"families show non":             `there is no shipped family "non": `,
		"families copy ./a b":           `"./a" is a folder, wanted the name of a shipped family: listing, `,

		"live p.yaml":                        `there is no plan "p.yaml": "gridferry new" writes a starter cell and plan`,
		"live -":                             `standard input does not change: name a file`,
		"live p.yaml --port 70000":           `--port is 70000, wanted 0 to 65535`,
		"arm p.yaml --joints=1 --at=2":       `--joints and --at cannot be used together: give one`,
		"arm p.yaml --urdf --format json":    `--urdf and --format cannot be used together: give one`,
		"arm p.yaml --tool jaw":              `--tool goes with --joints, --at or --reach`,
		"arm p.yaml -o a.svg":                `-o is for the picture that --reach gives`,
		"arm p.yaml --reach a --scheme dark": `--replace and --scheme are for a picture`,
		"arm p.yaml --reach a -o a.png":      `-o is a.png, but a picture is an .svg file: -o a.svg`,

		"explain p.yaml --plan-line 1 --cell-line 2": `--plan-line and --cell-line cannot be used together: give one`,
	} {
		status, out, said := command(strings.Fields(line)...)
		if status != misuse || !strings.Contains(said, want) || !strings.Contains(said, `--help"`) || strings.Count(said, "\n") != 2 || out != "" {
			t.Errorf("%s: status %d, %s%s", line, status, out, said)
		}
	}
}

// TestWordsThatStay: what is no misuse.
func TestWordsThatStay(t *testing.T) {
	_, version, _ := command("version")
	for line, want := range map[string]string{
		"--version": version, "help": "Available Commands:", "help write": "gridferry write PLAN", "help families copy": "copy NAME FOLDER",
		"completion": "bash", "completion bash": "complete", "help completion": "bash", "families": "fields",
		"families fields dwell": "dwell  .Seconds",
	} {
		if status, out, said := command(strings.Fields(line)...); status != fine || said != "" || want == "" || !strings.Contains(out, want) {
			t.Errorf("%s: status %d, %s%s", line, status, out, said)
		}
	}
	_, all, _ := command("families", "fields", "--format", "json")
	_, one, _ := command("families", "fields", "dwell", "--format", "json")
	if strings.Count(one, `"block": "dwell"`) != strings.Count(one, `"block"`) || strings.Count(all, `"block": "dwell"`) != strings.Count(one, `"block"`) {
		t.Errorf("the fields of one block: %s", one)
	}
}
