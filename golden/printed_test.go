package golden

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gridferry/golden/outside"
	"gridferry/golden/web"
)

// groupsOf is a digest in the groups of four that sheets show.
func groupsOf(digest string) string {
	return strings.TrimSpace(regexp.MustCompile(`.{4}`).ReplaceAllString(digest, "$0 "))
}

// sealedBody is the digest that the seal in a program's text names.
func sealedBody(t *testing.T, file string) string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	body := ""
	for _, m := range regexp.MustCompile(`(?i)seal \d+ body ([0-9a-f]+)`).FindAllStringSubmatch(string(data), -1) {
		body += m[1]
	}
	if len(body) != 64 {
		t.Fatalf("%s: the seal names a body of %d digits", file, len(body))
	}
	return body
}

// The sheet of each run names the program file that "write" writes for it and the digest in
// that file's own seal, at its head and in the setter's first check; the plan's digest is
// the same for all of them.
func TestSheetNamesTheProgramOfItsRun(t *testing.T) {
	scale := demoFolder + "/mortar-cubes-scale.plan.yaml"
	setter := regexp.MustCompile(`(?s)Setter:.*?<td class="n">5</td><td>(.*?)</td><td>(.*?)</td>`)
	for _, family := range []string{"listing", "st"} {
		seen := map[string]bool{}
		for kind, flags := range map[string][]string{
			"WHOLE JOB":                   nil,
			"PROVE-OUT":                   {"--prove-out"},
			"RESUMED JOB from transfer 3": {"--from", "3"},
			"PROVE-OUT of the job resumed at transfer 3": {"--from", "3", "--prove-out"},
		} {
			folder := t.TempDir()
			asked := append([]string{scale, "--family", family}, flags...)
			mustRun(t, append([]string{"write", "-o", folder}, asked...)...)
			written, err := filepath.Glob(filepath.Join(folder, "*"))
			if err != nil || len(written) != 1 {
				t.Fatalf("%s: %q was written, %v", kind, written, err)
			}
			name, body := filepath.Base(written[0]), groupsOf(sealedBody(t, written[0]))
			page := mustRun(t, append([]string{"sheet", "-o", "-"}, asked...)...)
			check := setter.FindStringSubmatch(page)
			if check == nil || !strings.Contains(check[1], kind) || check[2] != name+", body "+body[:19]+" …" {
				t.Errorf("%s, %s: check 5 is %q, wanted the kind of run, %s and %s", kind, family, check, name, body[:19])
			}
			if !strings.Contains(page, `<p class="run">`+kind+"</p>") || !strings.Contains(page, `<th scope="row">`+name+"</th><td><code>"+body+"</code>") {
				t.Errorf("%s, %s: the head does not say so, or not %s with %s", kind, family, name, body)
			}
			if seen[body] {
				t.Errorf("%s, %s: the digest is that of another run", kind, family)
			}
			seen[body] = true
		}
	}
}

// printed prints sheets on paper and gives the text of every side.
func printed(t *testing.T, pages map[string]string) map[string][]string {
	t.Helper()
	var jobs []web.Job
	files := map[string]string{}
	for name, page := range pages {
		job := web.Job{Page: page, Flat: true} // no view is on paper
		for _, format := range []string{"A4", "Letter"} {
			file := filepath.Join(t.TempDir(), "paper.pdf")
			files[name+" on "+format] = file
			job.Steps = append(job.Steps, web.Step{Do: "paper", On: format, To: file})
		}
		jobs = append(jobs, job)
	}
	web.LookAll(t, jobs)
	out := map[string][]string{}
	for name, file := range files {
		text := string(outside.Run(t, "poppler-utils", nil, "pdftotext", "-layout", file, "-"))
		out[name] = strings.Split(strings.TrimSuffix(text, "\f"), "\f")
	}
	return out
}

// Every sheet of paper says which run it is about, of how many sheets it is which, the
// title, the file and its digest; none holds a line alone, or ends with the heading of a map that
// is on the next one; everybody signs once.
func TestSheetsOnPaper(t *testing.T) {
	t.Parallel()
	outside.Short(t)
	pages := sheetPages(t)
	pages["layers"] = sheetPage(t, demoFolder+"/mixed-pallet.plan.yaml")
	delete(pages, "hostile")
	const foot = 2 // lines at the edges
	for name, sides := range printed(t, pages) {
		kind := map[string]string{"rest": "RESUMED JOB from transfer 3", "first run": "PROVE-OUT"}[strings.Split(name, " on ")[0]]
		if kind == "" {
			kind = "WHOLE JOB"
		}
		for i, side := range sides {
			lines := strings.FieldsFunc(side, func(r rune) bool { return r == '\n' })
			if number := "Page " + strconv.Itoa(i+1) + " of " + strconv.Itoa(len(sides)); len(lines) < foot || !strings.HasPrefix(strings.TrimSpace(lines[0]), kind) || !strings.Contains(side, number) {
				t.Errorf("%s: side %d does not begin with %q or lacks %q:\n%s", name, i+1, kind, number, side)
				continue
			}
			last := lines[len(lines)-1]
			if !regexp.MustCompile(` · (body|plan)( [0-9a-f]{4}){4} …`).MatchString(last) {
				t.Errorf("%s: side %d ends with %q, wanted file and digest", name, i+1, last)
			}
			if over := strings.TrimSpace(lines[len(lines)-foot]); regexp.MustCompile(`^(Layer [0-9]+|before( +after)?|.* layers?, frame .*)$`).MatchString(over) {
				t.Errorf("%s: side %d ends with the heading %q", name, i+1, over)
			}
			if len(lines)-foot < 4 {
				t.Errorf("%s: side %d holds %d lines:\n%s", name, i+1, len(lines)-foot, side)
			}
		}
		if n := strings.Count(strings.Join(sides, ""), "Signature"); n != 3 {
			t.Errorf("%s: there are %d places to sign, wanted 3", name, n)
		}
	}
}
