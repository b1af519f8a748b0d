package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"gridferry/gen"
	"gridferry/gen/family"
	"gridferry/gen/out"
	"gridferry/templates"
)

const familiesHelp = `A family is a folder of templates and rules that writes the text one family of
controllers reads. The shipped ones are inside this program; copy one out, edit
it, try it, and name its folder: write PLAN --family ./my-family.`

func newFamilies(s *streams) *cobra.Command {
	c := &cobra.Command{
		Use:   "families",
		Short: "List, show, copy and try families",
		Long:  familiesHelp,
		Args:  oneOfTheCommands,
		RunE:  func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(
		&cobra.Command{
			Use: "list", Short: "Name the shipped families", Args: arguments(0, 0),
			RunE: func(*cobra.Command, []string) error { return s.listFamilies() },
		},
		&cobra.Command{
			Use: "show NAME|FOLDER", Short: "Print a family's rules and templates", Args: arguments(1, 1), ValidArgs: templates.All(),
			RunE: func(_ *cobra.Command, args []string) error { return s.showFamily(args[0]) },
		},
		&cobra.Command{
			Use: "copy NAME FOLDER", Short: "Copy a family out, to be edited", Args: arguments(2, 2), ValidArgs: templates.All(),
			RunE: func(_ *cobra.Command, args []string) error { return s.copyFamily(args[0], args[1]) },
		},
		newTry(s),
		newFields(s),
	)
	return c
}

func (s *streams) listFamilies() error {
	for _, name := range templates.All() {
		job := new(gen.Job)
		f, err := openFamily(job, name)
		if err != nil || f == nil {
			return errors.Join(err, s.report(job))
		}
		if _, err := fmt.Fprintf(s.out, "%-10s %-5s %s\n", name, f.Extension, f.Title); err != nil {
			return failure{err}
		}
	}
	return nil
}

func (s *streams) showFamily(name string) error {
	if isFolder(name) {
		return s.showFolder(name)
	}
	return s.eachFile(name, func(file string, data []byte) error {
		_, err := fmt.Fprintf(s.out, "---- %s/%s\n%s\n", name, file, strings.TrimRight(string(data), "\n"))
		return err
	})
}

// showFolder prints a family of one's own, as far as it can be read.
func (s *streams) showFolder(name string) error {
	job := new(gen.Job)
	if _, err := openFamily(job, name); err != nil {
		return err
	}
	for file, text := range job.Sources.All() {
		if _, err := fmt.Fprintf(s.out, "---- %s\n%s\n", file, strings.TrimRight(text, "\n")); err != nil {
			return failure{err}
		}
	}
	return s.report(job)
}

func (s *streams) copyFamily(name, folder string) error {
	if isFolder(name) {
		return fmt.Errorf("%q is a folder, and a family of your own is copied like any folder: wanted the name of a shipped one, %s", name, strings.Join(templates.All(), ", "))
	}
	batch := out.NewBatch()
	defer batch.Discard()
	err := s.eachFile(name, func(file string, data []byte) error {
		return batch.AddNew(filepath.Join(folder, file), data)
	})
	if err != nil {
		return err
	}
	if err := batch.Commit(); err != nil {
		return failure{err}
	}
	for _, file := range batch.Names() {
		s.say("wrote %s", file)
	}
	s.say("edit the files, then: gridferry families try %s", inOwnFolder(folder))
	return nil
}

// isFolder tells a family's folder from a shipped family's name.
func isFolder(family string) bool { return strings.ContainsAny(family, `/\.`) }

// inOwnFolder is a folder as --family wants it: a bare name would be a shipped
// family's.
func inOwnFolder(folder string) string {
	if isFolder(folder) {
		return folder
	}
	return "./" + folder
}

// eachFile goes through the files of a shipped family in the order of names.
func (s *streams) eachFile(name string, do func(file string, data []byte) error) error {
	if err := shipped(name); err != nil {
		return err
	}
	files, err := fs.Glob(templates.FS, name+"/*")
	if err != nil {
		return failure{err}
	}
	for _, file := range files {
		data, err := templates.FS.ReadFile(file)
		if err == nil {
			err = do(strings.TrimPrefix(file, name+"/"), data)
		}
		if err != nil {
			return failure{err}
		}
	}
	return nil
}

func shipped(name string) error {
	for _, known := range templates.All() {
		if name == known {
			return nil
		}
	}
	return fmt.Errorf("there is no shipped family %q: %s (a folder of your own is written ./%s)", name, amongThese(name, templates.All()), filepath.Base(name))
}

// openFamily loads a shipped family by name, or one of the user's own by
// folder. What is wrong inside it is in the job's findings.
func openFamily(job *gen.Job, name string) (*family.Family, error) {
	if !isFolder(name) {
		if err := shipped(name); err != nil {
			return nil, err
		}
		sub, err := fs.Sub(templates.FS, name)
		if err != nil {
			return nil, err
		}
		f, _ := job.LoadFamily(sub, name)
		return f, nil
	}
	root, err := os.OpenRoot(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("there is no folder %q for a family: \"gridferry families copy\" makes one from a shipped family", name)
	}
	if err != nil {
		return nil, fmt.Errorf("the family's folder cannot be opened: %w", err)
	}
	defer root.Close()
	f, _ := job.LoadFamily(root.FS(), filepath.ToSlash(name))
	return f, nil
}
