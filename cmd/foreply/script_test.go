package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"foreply/compare/fact"
	"foreply/pdf"
	"foreply/profile/uci/scripted"
)

var update = flag.Bool("update", false, "rewrite what the scripts expect, after an intended change")

// raceDetector is set where the tests run with it, ten times as slow.
var raceDetector bool

func TestMain(m *testing.M) {
	if script := os.Getenv(scriptEnv); script != "" {
		os.Exit(scripted.Main(script, os.Stdin, os.Stdout, os.Stderr))
	}
	testscript.Main(m, map[string]func(){"foreply": main, "scripted": func() {
		os.Exit(scripted.Main(os.Args[1], os.Stdin, os.Stdout, os.Stderr))
	}})
}

// Each script of testdata/script tells one story of a user. It runs in a folder
// of its own that holds the files of testdata/script/common.
func TestScripts(t *testing.T) {
	dir, files := testdata+"/script", []string(nil)
	if raceDetector { // it is for the stories in which something runs beside something else
		for _, name := range []string{"fetch-http", "field", "hindsight-folder", "peers-book", "prep-engine", "profile"} {
			files = append(files, filepath.Join(dir, name+".txtar"))
		}
		dir = ""
	}
	testscript.Run(t, testscript.Params{
		Dir:                 dir,
		Files:               files,
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("HOME", filepath.Join(env.WorkDir, "home"))
			env.Setenv("XDG_CACHE_HOME", "")
			env.Setenv("XDG_CONFIG_HOME", "")
			many, err := filepath.Abs(testdata + "/diff/games.pgn")
			if err != nil {
				return err
			}
			env.Setenv("MANY", many) // 411 games of Kestrel, Ada
			return os.CopyFS(env.WorkDir, os.DirFS(testdata+"/script/common"))
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"onepage": onePage, "twopages": twoPages, "nosheet": noSheet, "samebytes": sameBytes, "zeros": zeros, "clip": clip, "age": age, "servesite": serveSite, "append": appendTo, "withoutpage": withoutPage, "nosecret": noSecret, "valid": valid, "drawn": drawn,
		},
	})
}

var (
	pageObject = regexp.MustCompile(`/Type\s*/Page\b[^s]`)
	mediaBox   = regexp.MustCompile(`/MediaBox\s*\[\s*0 0 ([0-9.]+) ([0-9.]+)\s*\]`)
)

// onePage FILE [WIDTH] fails unless the file is a PDF of one page, as wide in
// points as given.
func onePage(ts *testscript.TestScript, _ bool, args []string) { pages(ts, 1, args) }

// withoutPage takes from a report's JSON what stands on the page, its last property.
func withoutPage(ts *testscript.TestScript, _ bool, args []string) {
	report, _, found := strings.Cut(ts.ReadFile(args[0]), ",\n  \"page\": ")
	if !found {
		ts.Fatalf("%s tells of no page", args[0])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(report+"\n}\n"), 0o644))
}

// twoPages is onePage for a PDF of two.
func twoPages(ts *testscript.TestScript, _ bool, args []string) { pages(ts, 2, args) }

func pages(ts *testscript.TestScript, want int, args []string) {
	data := []byte(ts.ReadFile(args[0]))
	if !bytes.HasPrefix(data, []byte("%PDF-")) || !bytes.Contains(data[max(0, len(data)-16):], []byte("%%EOF")) {
		ts.Fatalf("%s is no whole PDF", args[0])
	}
	if n := len(pageObject.FindAll(data, -1)); n != want {
		ts.Fatalf("%s has %d pages", args[0], n)
	}
	if len(args) < 2 {
		return
	}
	box := mediaBox.FindSubmatch(data)
	if box == nil {
		ts.Fatalf("%s gives no size", args[0])
	}
	width, err := strconv.ParseFloat(string(box[1]), 64)
	ts.Check(err)
	if want, _ := strconv.ParseFloat(args[1], 64); width < want-1 || width > want+1 {
		ts.Fatalf("%s is %v points wide, want %v", args[0], width, want)
	}
}

// noSheet fails if a PDF or an unfinished file is anywhere in the folder.
func noSheet(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(filepath.WalkDir(ts.MkAbs("."), func(path string, _ fs.DirEntry, err error) error {
		if strings.HasSuffix(path, ".pdf") || strings.HasSuffix(path, ".part") {
			ts.Fatalf("left behind: %s", path)
		}
		return err
	}))
}

// sameBytes FILE FILE is cmp without printing what differs.
func sameBytes(ts *testscript.TestScript, neg bool, args []string) {
	if ts.ReadFile(args[0]) != ts.ReadFile(args[1]) {
		ts.Fatalf("%s and %s differ", args[0], args[1])
	}
}

// zeros FILE writes a file that is no text.
func zeros(ts *testscript.TestScript, neg bool, args []string) {
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), make([]byte, 4096), 0o666))
}

// valid FILE fails unless the file is a report by its schema.
func valid(ts *testscript.TestScript, neg bool, args []string) {
	schema, err := jsonschema.NewCompiler().Compile(reportSchema)
	ts.Check(err)
	report, err := jsonschema.UnmarshalJSON(strings.NewReader(ts.ReadFile(args[0])))
	ts.Check(err)
	ts.Check(schema.Validate(report))
}

// drawn REPORT FILE writes what the pages of a report's JSON draw, an item a line.
func drawn(ts *testscript.TestScript, neg bool, args []string) {
	var report fact.Report
	ts.Check(json.Unmarshal([]byte(ts.ReadFile(args[0])), &report))
	pages, _, err := pdf.Layout(&report, pdf.Options{})
	ts.Check(err)
	var out bytes.Buffer
	for _, p := range pages {
		out.WriteString(p.Dump())
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), out.Bytes(), 0o666))
}

// reportSchema describes what --json prints.
const reportSchema = "../../compare/report.schema.json"

// clip FILE cuts a file in half.
func clip(ts *testscript.TestScript, neg bool, args []string) {
	data := ts.ReadFile(args[0])
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(data[:len(data)/2]), 0o666))
}

// age FILE... dates files a day back.
func age(ts *testscript.TestScript, neg bool, args []string) {
	yesterday := time.Now().Add(-24 * time.Hour)
	for _, file := range args {
		ts.Check(os.Chtimes(ts.MkAbs(file), yesterday, yesterday))
	}
}

// A run that is interrupted while it works leaves nothing, whenever it comes.
func TestInterruptedBeforeTheEnd(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	folder := t.TempDir()
	common := testdata + "/script/common"
	var out, errs bytes.Buffer
	code := run(ctx, []string{"prep", "--games", common + "/games.pgn", "--opponent", "Quist, Ola",
		"--repertoire", common + "/black.pgn", "--my-color", "black", "-o", filepath.Join(folder, "sheet.pdf")},
		strings.NewReader(""), &out, &errs)
	left, err := os.ReadDir(folder)
	if code != exitInterrupted || err != nil || len(left) > 0 || out.Len() > 0 {
		t.Errorf("exit code %d, left %v, %v, stdout %q, stderr %q", code, left, err, out.String(), errs.String())
	}
}
