// Command notices writes NOTICES: the licences of all that the program foreply
// carries, libraries, fonts and data, for the systems it is built for.
//
//	go run ./cmd/notices > NOTICES      or 'make notices'
//
// It asks the Go command which packages are linked, and takes every file beside
// them, up to the root of their module, that is named like a licence. A module
// without one is an error. The text depends on go.mod and what is imported alone,
// so .ci/run can tell whether NOTICES is current.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

const program = "./cmd/foreply"

// systems are those whose libraries are counted; others need no further ones.
var systems = []string{"linux", "darwin", "windows"}

func main() {
	w := bufio.NewWriter(os.Stdout)
	if err := errors.Join(write(w), w.Flush()); err != nil {
		fmt.Fprintln(os.Stderr, "error:", err)
		os.Exit(1)
	}
}

// linked is a package of the program, as 'go list -json' gives it.
type linked struct {
	Dir      string
	Standard bool
	Module   *struct {
		Path, Version, Dir string
		Main               bool
	}
	EmbedFiles []string
}

func write(w io.Writer) error {
	var all []linked
	for _, system := range systems {
		list, err := packages(system)
		if err != nil {
			return err
		}
		all = append(all, list...)
	}
	goroot, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("asking for the folder of Go: %w", err)
	}
	notices, err := gather(all, strings.TrimSpace(string(goroot)))
	if err != nil {
		return err
	}
	data, err := ownData(all)
	if err != nil {
		return err
	}
	putOut(w, notices, data)
	return nil
}

// packages are all that is linked into the program for a system.
func packages(system string) ([]linked, error) {
	cmd := exec.Command("go", "list", "-deps", "-json=Dir,Standard,Module,EmbedFiles", program)
	cmd.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("listing the packages for %s: %w", system, err)
	}
	var list []linked
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p linked
		switch err := d.Decode(&p); err {
		case nil:
			list = append(list, p)
		case io.EOF:
			return list, nil
		default:
			return nil, fmt.Errorf("reading what go list says: %w", err)
		}
	}
}

// notice is a text with the libraries that it stands for.
type notice struct {
	text string
	of   []string // 'module version, file'
}

// standardLibrary has no version here: it is that of whoever builds.
const standardLibrary = "the Go standard library"

// gather reads the licences of the packages, each text once, in order of the first
// library it is for.
func gather(list []linked, goroot string) ([]notice, error) {
	files := map[string]string{} // path of a licence: what it is of
	for _, p := range list {
		var root, name string
		switch {
		case p.Standard:
			root, name = goroot, standardLibrary
		case p.Module.Main:
			continue
		default:
			root, name = p.Module.Dir, p.Module.Path+" "+p.Module.Version
		}
		if err := licences(p.Dir, root, name, files); err != nil {
			return nil, err
		}
	}
	of := map[string][]string{}
	for path, what := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		key := tidy(string(text))
		of[key] = append(of[key], what)
	}
	var out []notice
	for text, names := range of {
		slices.Sort(names)
		out = append(out, notice{text, names})
	}
	slices.SortFunc(out, func(a, b notice) int { return slices.Compare(a.of, b.of) })
	return out, nil
}

// licenceName is what files with licences and notices are called.
var licenceName = regexp.MustCompile(`(?i)^(un)?(licen[cs]e|copying|notice|patents|copyright)s?([-.].*)?$`)

// licences adds the files that are named like a licence, from the folder of a
// package up to the root of its module, and in a folder of others' licences there.
// The root must have one.
func licences(dir, root, name string, files map[string]string) error {
	found := false
	for at := dir; ; at = filepath.Dir(at) {
		here, err := licencesIn(at, root)
		if err != nil {
			return err
		}
		for _, path := range here {
			rel, err := filepath.Rel(root, path)
			if err != nil {
				return err
			}
			files[path] = name + ", " + filepath.ToSlash(rel)
			found = true
		}
		if at == root {
			break
		}
		if at == filepath.Dir(at) {
			return fmt.Errorf("%s is not under %s", dir, root)
		}
	}
	if !found {
		return fmt.Errorf("%s has no licence in %s: look for it and say so in cmd/notices", name, root)
	}
	return nil
}

func licencesIn(dir, root string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		switch {
		case e.IsDir() && dir == root && strings.EqualFold(e.Name(), "third_party_licenses"):
			err := filepath.WalkDir(path, func(p string, e fs.DirEntry, err error) error {
				if err == nil && e.Type().IsRegular() {
					out = append(out, p)
				}
				return err
			})
			if err != nil {
				return nil, err
			}
		case e.Type().IsRegular() && filepath.Ext(e.Name()) != ".go" && licenceName.MatchString(e.Name()):
			out = append(out, path)
		}
	}
	return out, nil
}

// tidy makes texts comparable: one kind of line end, no blanks around.
func tidy(text string) string {
	lines := strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " \t\f")
	}
	return strings.Trim(strings.Join(lines, "\n"), "\n")
}

// ownData are the heads of the tables in our packages that came from elsewhere:
// lines of '#' that name a source.
func ownData(list []linked) ([]notice, error) {
	heads := map[string]string{}
	for _, p := range list {
		if p.Standard || !p.Module.Main {
			continue
		}
		for _, file := range p.EmbedFiles {
			path := filepath.Join(p.Dir, file)
			text, err := os.ReadFile(path)
			if err != nil {
				return nil, err
			}
			rel, err := filepath.Rel(p.Module.Dir, path)
			if err != nil {
				return nil, err
			}
			if head := sourceOf(string(text)); head != "" {
				heads[filepath.ToSlash(rel)] = head
			}
		}
	}
	var out []notice
	for path, head := range heads {
		out = append(out, notice{head, []string{path}})
	}
	slices.SortFunc(out, func(a, b notice) int { return slices.Compare(a.of, b.of) })
	return out, nil
}

// sourceOf is the head of a table from 'Source:' on, empty if it has none.
func sourceOf(text string) string {
	var head []string
	for line := range strings.Lines(text) {
		line, comment := strings.CutPrefix(strings.TrimSpace(line), "# ")
		if !comment {
			break
		}
		if len(head) > 0 || strings.HasPrefix(line, "Source:") {
			head = append(head, line)
		}
	}
	return strings.Join(head, "\n")
}

const rule = "--------------------------------------------------------------------------------"

func putOut(w io.Writer, notices, data []notice) {
	fmt.Fprintln(w, "foreply stands under the MIT licence (LICENSE). Its program carries libraries, fonts")
	fmt.Fprintln(w, "and data of others; what they are and their licences stand here. This file is made by")
	fmt.Fprintln(w, "'make notices'.")
	for _, n := range append(data, notices...) {
		fmt.Fprintf(w, "\n%s\n%s\n%s\n\n%s\n", rule, strings.Join(n.of, "\n"), rule, n.text)
	}
}
