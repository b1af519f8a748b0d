package plan_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridferry/plan"
	"gridferry/plan/diag"
)

// A URDF file counts among all that was read for a plan, and so in the digest; it lies beside the cell, and
// names that lead elsewhere are refused.
func TestURDFBesideTheCell(t *testing.T) {
	dir := t.TempDir()
	robot := `<robot name="a"><link name="b"/><link name="c"/><joint name="j" type="continuous"><parent link="b"/><child link="c"/></joint></robot>`
	if err := os.MkdirAll(filepath.Join(dir, "cells"), 0o777); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"cells/arm.urdf": robot, "arm.urdf": robot, "cells/c.cell.yaml": "format: gridferry cell 1\narm: {urdf: FILE}\ntools: {}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for file, refused := range map[string]bool{"arm.urdf": false, "../arm.urdf": true, "/etc/hostname": true, "none.urdf": true} {
		var list diag.List
		var sources diag.Sources
		source := plan.Source{File: "p.plan.yaml", Data: []byte("format: gridferry plan 1\ncell: cells/c.cell.yaml\n"), Dir: dir}
		settings := []plan.Setting{{Path: "cell.arm.urdf", Value: file}}
		p := plan.Read(source, settings, &list, &sources)
		unreadable := slices.ContainsFunc(list.Sorted(), func(f diag.Finding) bool { return f.Rule == "urdf-unreadable" })
		read := slices.ContainsFunc(sources.Names(), func(name string) bool { return strings.HasSuffix(name, ".urdf") && name != "" })
		if unreadable != refused || read == refused || p.Cell.Arm.Unread != refused {
			t.Errorf("%s: %+v, read %v", file, list.Sorted(), sources.Names())
		}
	}
}
