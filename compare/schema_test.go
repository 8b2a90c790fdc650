package compare

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"foreply/compare/book"
	"foreply/compare/fact"
	"foreply/fetch/pgn"
	"foreply/profile"
	"foreply/profile/board"
	"foreply/profile/profiletest"
)

var update = flag.Bool("update", false, "rewrite report.schema.json, after an intended change of the Report")

// schemaFile describes the JSON of a Report (JSON Schema, draft 2020-12).
const schemaFile = "report.schema.json"

// choices are the values a field of text can have.
var choices = map[string][]string{
	"Side.my_color":    {"white", "black"},
	"Exit.kind":        {fact.TheyLeave, fact.BookEnds, fact.LimitInBook, fact.GameOver},
	"Branch.state":     {fact.Answered, fact.NoAnswer, fact.BookIsOver, fact.Returns, fact.ByWayBack},
	"Branch.ends_with": {fact.TheyLeave, fact.BookEnds, fact.LimitInBook, fact.GameOver},
	"Task.kind":        {fact.ToExpect, fact.ToPlay, fact.ToLook},
	"Task.lead": {fact.LeadExpect, fact.LeadOr, fact.LeadPlay, fact.LeadChanged, fact.LeadAnswer, fact.LeadGoOn, fact.LeadTrap, fact.LeadLook,
		fact.LeadOrder, fact.LeadChoose, fact.LeadAgain},
	"Task.aim":        {fact.ForWin, fact.ForDraw},
	"Side.aim":        {fact.ForWin, fact.ForDraw, fact.ForTwoRounds, fact.ForFast},
	"Diagram.why":     {fact.BoardNoAnswer, fact.BoardBookEnds, fact.BoardUnseen, fact.BoardInBook, fact.BoardGameOver},
	"GameRow.theirs":  {"white", "black"},
	"GameRow.left_by": {fact.LeftByThem, fact.LeftByYou, fact.BookOver, fact.GameEnded, ""},
	"WayOut.by":       {fact.LeftByThem, fact.LeftByYou, fact.BookOver},
	"Trap.kind":       {fact.TheirSlip, fact.OthersSlip},
	"Order.kind":      {fact.YourOrder, fact.TheirOrder},
	"Trap.where":      {fact.InBook, fact.PastBook, fact.OtherAnswer, fact.OffBook},
	"Diagram.view":    {"white", "black"},
	"SideFacts.king":  {fact.CastledShort, fact.CastledLong, fact.MayCastle, fact.LostCastling},
	"Option.reasons":  {fact.ByResults, fact.ByBook}, "Option.character": {fact.Sharp, fact.Solid},
	"Situation.aim": {fact.ForWin, fact.ForDraw, fact.ForTwoRounds, fact.ForFast},
	"About.kind": {fact.LongCastling, fact.LateCastling, fact.EarlyQueens, fact.OppositeSides, fact.ShortDraw, fact.LongGame, fact.AgainstLower,
		fact.InLongGames, fact.AtOnce, fact.PlainRecord},
	"PlayedGame.left_by": {fact.LeftByThem, fact.LeftByYou, fact.BookOver, fact.GameEnded, ""},
	"ModelGame.left_by":  {fact.LeftByThem, fact.LeftByYou, fact.BookOver, fact.GameEnded, ""},
	"GameRow.class":      speeds, "Ref.class": speeds, "PlayedGame.speed": speeds, "ModelGame.speed": speeds,
}

var speeds = []string{"unknown", "bullet", "blitz", "rapid", "classical"}

// Every kind that package fact names is a choice of some property, so that a new one is
// not forgotten here.
func TestEveryKindIsAChoice(t *testing.T) {
	known := map[string]bool{}
	for _, list := range choices {
		for _, kind := range list {
			known[kind] = true
		}
	}
	files, err := filepath.Glob("fact/*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("%v, %d files", err, len(files))
	}
	n := 0
	for _, file := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(node ast.Node) bool {
			if decl, ok := node.(*ast.GenDecl); ok && decl.Tok == token.CONST {
				for _, spec := range decl.Specs {
					for _, value := range spec.(*ast.ValueSpec).Values {
						if lit, ok := value.(*ast.BasicLit); ok && lit.Kind == token.STRING {
							if n++; !known[strings.Trim(lit.Value, `"`)] {
								t.Errorf("%s: %s is a choice of no property", file, lit.Value)
							}
						}
					}
				}
			}
			return true
		})
	}
	if n < 40 {
		t.Errorf("%d kinds", n)
	}
}

// datePattern is a date as far as it is known; one that is not is left out.
const datePattern = `^[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?$`

// untold are the fields that what is hardly known doesn't have.
var untold = []string{"Share.ten", "Share.ten_lo", "Share.ten_hi", "Often.ten_lo", "Often.ten_hi", "Unanswered.ten_lo", "Unanswered.ten_hi"}

// noneIsLess are the numbers that are -1 for none.
var noneIsLess = []string{"Parting.from", "Branch.next"}

// eitherSign are evaluations, which may be of any size and sign.
var eitherSign = []string{"Trap.before", "Trap.after", "Evaluated.cp", "Evaluated.mate", "Rated.beside"}

// The schema is made from the types of the Report: names and shapes from the
// types themselves, what they mean from the comments beside them.
func TestSchemaDescribesTheReport(t *testing.T) {
	want, err := json.MarshalIndent(reportSchema(t), "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile(schemaFile, want, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("%s is not that of the Report's types (%v): run make golden, read the diff, and count up ReportVersion if a field went", schemaFile, err)
	}
}

// Reports of random games and books, of few games and of none, are valid by an
// independent validator.
func TestReportsAreValidByTheSchema(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := randomGames(r, []int{0, 1, 10, 60}[seed%4], 24, 2)
		in := Input{Profile: p, Own: randomGames(r, 20, 20, 2)}
		for _, mine := range []board.Color{board.White, board.Black}[:1+seed%2] {
			in.Books = append(in.Books, randomBook(t, r, mine, r.IntN(10), 16, 2))
		}
		anybody := func(string) bool { return seed%3 == 0 }
		rep := Make(in, Options{When: today, Class: profile.Class(seed % 5), Me: anybody, Them: anybody})
		if err := schema.Validate(asJSON(t, rep)); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}

// So are those that tell of slips, whose evaluations are below zero, and of what
// else no random games show.
func TestReportsThatTellMoreAreValidByTheSchema(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	var rows []string
	for i, moves := range slices.Concat(slices.Repeat([]string{"e4 e5 Nf3 Nc6"}, 18), slices.Repeat([]string{knew}, 6), slices.Repeat([]string{fell}, 3)) {
		rows = append(rows, fmt.Sprintf("2026.02.%02d 1-0 300: %s", i+1, moves))
	}
	repertoire := bookOf(t, board.White, "1. e4 c5 2. c3 d6 (2... g6 3. d4 cxd4 $2) 3. d4 Nf6 4. dxc5 Nxe4? (4... Nc6 5. cxd6) 5. Qa4+ *", "1. d4 d5 *")
	rep := Make(Input{Profile: profiletest.Judged(t, rows...), Books: []*book.Book{repertoire}}, Options{When: today, Need: fact.NeedWin})
	side := &rep.Sides[0]
	if len(side.Traps) == 0 || len(side.Changes) == 0 || len(side.Mistakes) == 0 || len(side.Options) == 0 {
		t.Fatalf("the test's own report tells of %d traps, %d changes, %d mistakes, %d options",
			len(side.Traps), len(side.Changes), len(side.Mistakes), len(side.Options))
	}
	if err := schema.Validate(asJSON(t, rep)); err != nil {
		t.Error(err)
	}
}

// asJSON is a report as a reader of its JSON has it.
func asJSON(t *testing.T, rep *fact.Report) any {
	t.Helper()
	text, err := json.Marshal(rep)
	if err != nil {
		t.Fatal(err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return value
}

// The schema is no wildcard: a report with a field too many, too few, or of
// another kind is refused.
func TestSchemaRefuses(t *testing.T) {
	schema, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	b := bookOf(t, board.White, "1. e4 e5 2. Nf3 *")
	for name, spoil := range map[string]func(report, side map[string]any){
		"a field too many":     func(_, side map[string]any) { side["extra"] = 1 },
		"a field too few":      func(report, _ map[string]any) { delete(report, "version") },
		"text for a number":    func(_, side map[string]any) { side["other"] = "none" },
		"null for a list":      func(_, side map[string]any) { side["exits"] = nil },
		"a colour of its own":  func(_, side map[string]any) { side["my_color"] = "green" },
		"a number below zero":  func(_, side map[string]any) { side["games"] = -1 },
		"half a number of ply": func(_, side map[string]any) { side["max_ply"] = 1.5 },
	} {
		text, err := json.Marshal(Make(Input{Profile: e4Games(), Books: []*book.Book{b}}, Options{When: today}))
		if err != nil {
			t.Fatal(err)
		}
		var report map[string]any
		if err := json.Unmarshal(text, &report); err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(report); err != nil {
			t.Fatalf("unspoilt: %v", err)
		}
		spoil(report, report["sides"].([]any)[0].(map[string]any))
		if schema.Validate(report) == nil {
			t.Errorf("%s passes", name)
		}
	}
}

// members is a JSON object that keeps its order.
type members []member

type member struct {
	name  string
	value any
}

func (m members) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, e := range m {
		if i > 0 {
			b.WriteByte(',')
		}
		value, err := json.Marshal(e.value)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%q:%s", e.name, value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// schemaMaker collects the definitions of types met on the way.
type schemaMaker struct {
	comments    map[string]string // by 'Type' and 'Type.Field'
	defs        members
	met         map[reflect.Type]bool
	undescribed []string
}

func reportSchema(t *testing.T) members {
	t.Helper()
	m := &schemaMaker{comments: commentsOf(t), met: map[reflect.Type]bool{}}
	root := m.shape(reflect.TypeFor[fact.Report](), "")
	if len(m.undescribed) > 0 {
		t.Errorf("no comment says what they mean: %s", strings.Join(m.undescribed, ", "))
	}
	return append(members{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", fmt.Sprintf("foreply report, version %d", fact.ReportVersion)},
	}, append(root, member{"$defs", m.defs})...)
}

// shape describes a type where it is used as the field at.
func (m *schemaMaker) shape(t reflect.Type, at string) members {
	switch t.Kind() {
	case reflect.Pointer:
		return m.shape(t.Elem(), at)
	case reflect.Struct:
		if t == reflect.TypeFor[pgn.Date]() {
			return members{{"type", "string"}, {"pattern", datePattern}}
		}
		m.define(t)
		return members{{"$ref", "#/$defs/" + t.Name()}}
	case reflect.Slice:
		return members{{"type", "array"}, {"items", m.shape(t.Elem(), at)}}
	case reflect.Bool:
		return members{{"type", "boolean"}}
	case reflect.String:
		if list := choices[at]; list != nil {
			return members{{"enum", list}}
		}
		return members{{"type", "string"}}
	}
	kind, least := "integer", 0
	switch {
	case slices.Contains(eitherSign, at):
		return members{{"type", kind}}
	case t.Kind() == reflect.Float64:
		kind = "number"
	case slices.Contains(noneIsLess, at):
		least = -1
	}
	return members{{"type", kind}, {"minimum", least}}
}

// described are fields of a type that has a description of its own.
func described(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		return described(t.Elem())
	}
	return t.Kind() == reflect.Struct && t != reflect.TypeFor[pgn.Date]()
}

func (m *schemaMaker) define(t reflect.Type) {
	if m.met[t] {
		return
	}
	m.met[t] = true
	place := len(m.defs)
	m.defs = append(m.defs, member{name: t.Name()})
	properties, required := members{}, []string{}
	for _, f := range reflect.VisibleFields(t) {
		if f.Anonymous { // its fields follow as if they were its owner's
			continue
		}
		name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if name == "-" { // not in the JSON
			continue
		}
		shape := m.shape(f.Type, t.Name()+"."+name)
		owner := t
		for _, i := range f.Index[:len(f.Index)-1] {
			owner = owner.Field(i).Type
		}
		switch text := m.comments[owner.Name()+"."+f.Name]; {
		case text != "":
			shape = append(shape, member{"description", text})
		case !described(f.Type):
			m.undescribed = append(m.undescribed, t.Name()+"."+name)
		}
		properties = append(properties, member{name, shape})
		if rest != "omitempty" && rest != "omitzero" && !slices.Contains(untold, t.Name()+"."+name) {
			required = append(required, name)
		}
	}
	m.defs[place].value = members{
		{"description", m.comments[t.Name()]}, {"type", "object"}, {"properties", properties},
		{"required", required}, {"additionalProperties", false},
	}
}

// commentsOf reads what stands beside the types of package fact and their
// fields.
func commentsOf(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("fact/*.go")
	if err != nil {
		t.Fatal(err)
	}
	comments := map[string]string{}
	for _, file := range files {
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range parsed.Decls {
			decl, ok := d.(*ast.GenDecl)
			if !ok || decl.Tok != token.TYPE {
				continue
			}
			for _, s := range decl.Specs {
				readComments(comments, decl, s.(*ast.TypeSpec))
			}
		}
	}
	return comments
}

func readComments(comments map[string]string, decl *ast.GenDecl, s *ast.TypeSpec) {
	comments[s.Name.Name] = oneLine(decl.Doc.Text())
	fields, ok := s.Type.(*ast.StructType)
	if !ok {
		return
	}
	for _, f := range fields.Fields.List {
		for _, name := range f.Names {
			comments[s.Name.Name+"."+name.Name] = oneLine(f.Doc.Text() + f.Comment.Text())
		}
	}
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
