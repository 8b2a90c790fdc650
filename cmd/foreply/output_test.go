package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foreply/fetch"
)

// A file is ours by what it begins with, a PDF by the mark in it too, an EPD by that in its
// first line; an empty one costs nothing.
func TestFilesOfOurs(t *testing.T) {
	for _, c := range []struct {
		head, text string
		want       bool
	}{
		{pdfHead, "", true},
		{pdfHead, "%PDF-1.4 /Creator (" + strings.TrimSuffix(strings.TrimPrefix(pdfMark, "/Creator ("), ")") + ")", true},
		{pdfHead, "%PDF-1.4 " + strings.Repeat("x", startBytes) + pdfMark, true},
		{pdfHead, "%PDF-1.4 a bill", false},
		{pdfHead, "x" + pdfMark, false},
		{pdfHead, "%PDF-1.4 " + strings.Repeat("x", mostSheet+startBytes) + pdfMark, false},
		{pgnHead, pgnHead + "\n", true},
		{pgnHead, "[Event \"Mine\"]\n" + pgnHead, false},
		{csvHead, csvHead + "\n", true},
		{csvHead, "a,b\n", false},
		{configHead, configHead + "; more\n", true},
		{configHead, "me:\n", false},
		{epdHead, "4k3/8/8/8/8/8/8/4K3 w - - c0 \"x\"; c1 \"reach 0.5\";\n", true},
		{epdHead, "4k3/8/8/8/8/8/8/4K3 w - -;\nx; c1 \"reach 0.5\";\n", false},
	} {
		if got, err := ours(strings.NewReader(c.text), c.head); got != c.want || err != nil {
			t.Errorf("%.60q by %q: %v, %v", c.text, c.head, got, err)
		}
	}
}

// What may not be replaced is told by its kind, and stays; what may is put in place whole.
func TestReplacing(t *testing.T) {
	t.Chdir(t.TempDir())
	for head, want := range map[string]string{
		pdfHead: "no sheet of ours", pgnHead: "no list of lines", csvHead: "no list of forecasts", epdHead: "no list of ends", configHead: "not made by 'foreply field'",
	} {
		write(t, "x", "theirs\n")
		_, err := new(app).createOut("x", head, nil)
		if got := told(err); got != "error: writing x: the file is there already and is "+want+"\nhint: give another name, or --force to replace it\n" {
			t.Errorf("%q", got)
		}
		out, err := (&app{force: true}).createOut("x", head, fetch.Inputs("other", "y*"))
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(out, "ours"); err != nil || string(readFile(t, "x")) != "theirs\n" {
			t.Errorf("replaced before it was whole, %v", err)
		}
		if err := out.keep(); err != nil || string(readFile(t, "x")) != "ours" {
			t.Errorf("not kept: %v", err)
		}
		out.drop()
		if files, _ := os.ReadDir("."); len(files) != 1 {
			t.Errorf("left %v", files)
		}
	}
	write(t, "a", "read too")
	if err := os.Mkdir("folder", 0o700); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		path  string
		reads []fetch.Input
		want  string
	}{
		{"-", nil, "error: nothing is written to standard output but text and JSON\nhint: give the name of a file\n"},
		{"x", fetch.Inputs("none", "folder", "./[ax]"), "error: writing x: it is one of the files that are read\nhint: give another name\n"},
		{"folder", nil, "error: writing folder: it is a folder\nhint: give a file name, as folder/sheet.pdf\n"},
		{"none/x", nil, "error: writing none/x: there is no folder none\nhint: make the folder first, or give another place\n"},
	} {
		if _, err := (&app{force: true}).createOut(c.path, pdfHead, c.reads); err == nil || told(err) != c.want {
			t.Errorf("%s: %v, want %q", c.path, err, c.want)
		}
	}
	a := new(app)
	if _, err := a.createOut("new", pdfHead, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := a.createOut("./new", pdfHead, nil); err == nil || told(err) != "error: writing ./new: it is to be written twice\nhint: give two names\n" {
		t.Errorf("twice: %v", err)
	}
}

// Unfinished files that nobody has open go, of this name only; one that is being written stays.
func TestLeftoversGo(t *testing.T) {
	folder := t.TempDir()
	for _, name := range []string{".a.pdf.1.part", ".a.pdf.2.part", ".b.pdf.1.part", ".a.pdf.2", "a.pdf.3.part", ".a.pdf2.1.part", ".a.pdf.1.part.old"} {
		write(t, filepath.Join(folder, name), "x")
	}
	first, err := createPart(filepath.Join(folder, "a.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	second, err := createPart(filepath.Join(folder, "a.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	for name, want := range map[string]bool{
		".a.pdf.1.part": false, ".a.pdf.2.part": false, ".a.pdf2.1.part": true, ".a.pdf.1.part.old": true, ".b.pdf.1.part": true, ".a.pdf.2": true, "a.pdf.3.part": true, filepath.Base(first.Name()): true, filepath.Base(second.Name()): true,
	} {
		if _, err := os.Stat(filepath.Join(folder, name)); (err == nil) != want {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// A configuration is begun where nothing stands, not even a link that leads nowhere.
func TestConfigurationIsBegun(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Symlink("gone.yaml", "link.yaml"); err != nil {
		t.Skip(err)
	}
	var out strings.Builder
	a := &app{stdout: &out}
	if err := a.init("link.yaml"); err == nil || told(err) != "error: writing link.yaml: the file is there already\nhint: 'foreply init OTHER.yaml' writes to another place\n" {
		t.Errorf("%v", err)
	}
	if err := a.init("new.yaml"); err != nil || string(readFile(t, "new.yaml")) != string(template) || out.String() != "wrote new.yaml; fill in your names and files, then: foreply prep OPPONENT-ID --my-color white\n" {
		t.Errorf("%q, %v", out.String(), err)
	}
	if files, err := os.ReadDir("."); err != nil || len(files) != 2 {
		t.Errorf("left %v, %v", files, err)
	}
}

// A link is followed to its end, beside where it stands, there or not.
func TestLinksAreFollowed(t *testing.T) {
	folder := t.TempDir()
	at := func(name string) string { return filepath.Join(folder, name) }
	if err := errors.Join(os.Mkdir(at("usb"), 0o700), os.Symlink("usb/two", at("one")), os.Symlink("three", at("usb/two")), os.Symlink(at("one"), at("whole")), os.Symlink("loop", at("loop"))); err != nil {
		t.Skip(err)
	}
	for name, want := range map[string]string{"one": "usb/three", "whole": "usb/three", "none": "none", "loop": "loop"} {
		if got := followLinks(at(name)); got != at(want) {
			t.Errorf("%s leads to %s", name, got)
		}
	}
}

func TestCauseOfAnError(t *testing.T) {
	for _, err := range []error{&fs.PathError{Op: "open", Path: "x", Err: fs.ErrExist}, &os.LinkError{Op: "rename", Old: "x", New: "y", Err: fs.ErrExist}, fs.ErrExist} {
		if got := fetch.Cause(err); got != fs.ErrExist {
			t.Errorf("%v", got)
		}
	}
}
