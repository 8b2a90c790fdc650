package fetch

import (
	"slices"
	"strings"
	"testing"
	"time"

	"foreply/fetch/pgn"
)

func TestGarbled(t *testing.T) {
	for name, want := range map[string]bool{
		"Ho©ek, Jan": true, "Mal¡k, Petr": true, "Èâàíîâà, À": true, "Ko³owski, M": true, "Alder\ufffd, M": true, "Mˆller, J": true,
		"Müller, Jörg": false, "MÃ¼ller, JÃ¶rg": false, "DvoÅ™Ã¡kovÃ¡, JiÅ™ina": false, "Þóðarson, Á": false, "O´Neil, P": false, "O’Neil, P": false,
		"Alder – Brook": false, "Pérez-Núñez, Íñigo": false, "Ångström, Åsa": false, "Иванова, А": false, "Alder (†)": false, "Mª Luz, Elm": false, "": false,
		"Gal·la, N": false, "½ Brook": false, "Alder, Mina": false, "Ald\x7fer": false, "Alder, M™": true,
		"¡lder, M": true, "Alder, ³M": true, "Èâàí, A": true, "Ald×er, M": true, "÷lder, M": true, "Alder × Brook": false, "Þóðx, Þóð": false, "Èâ à íîâ": false,
	} {
		if got := garbled(name); got != want {
			t.Errorf("%q: %v, want %v", name, got, want)
		}
	}
}

// Which names of a file look garbled is told once, whoever is sought.
func TestGarbledNamesAreTold(t *testing.T) {
	text := strings.NewReplacer("<s>", "\xA9", "<i>", "\xA1", "<ue>", "\xFC").Replace(game("Alder, Mina", "Ho<s>ek, J", line(20, "a"), "1-0") +
		game("Mal<i>k, P", "Ho<s>ek, J", line(20, "b"), "1-0") + game("M<ue>ller, J", "x", line(20, "c"), "1-0"))
	for _, workers := range []int{1, 2} {
		opt := alder
		opt.Workers = workers
		var got []string
		for _, p := range run(t, opt, folder(t, "a.pgn", text)).Problems {
			if p.Kind == pgn.BadEncoding && p.Severity == pgn.Warning {
				got = append(got, p.Message)
			}
		}
		if want := "names look garbled, as of another code page than Windows-1252: Ho©ek, J; Mal¡k, P"; strings.Join(got, "|") != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// Three names are told, each once though it stands in several parts of a file, and that there
// are more.
func TestMostGarbledNames(t *testing.T) {
	var g garbledNames
	for _, c := range []struct{ names, told string }{
		{"Alder Brook", ""}, {"Al©der Alder Al©der", "Al©der"}, {"Br©ok Al©der", "Al©der; Br©ok"}, {"Cr©ne", "Al©der; Br©ok; Cr©ne"}, {"Br©ok", "Al©der; Br©ok; Cr©ne"},
		{"D©le El©m", "Al©der; Br©ok; Cr©ne; and more"},
	} {
		var seen []sighted
		for name := range strings.FieldsSeq(c.names) {
			seen = append(seen, sighted{name: name})
		}
		g.see(seen)
		want := []pgn.Problem{{Kind: pgn.BadEncoding, Severity: pgn.Warning, Source: "club", File: "a.pgn", Hint: "save the file as UTF-8, and the names are found as they are written",
			Message: "names look garbled, as of another code page than Windows-1252: " + c.told}}
		if got := g.problem("club", "a.pgn"); !slices.Equal(got, want[:min(1, len(c.told))]) {
			t.Errorf("behind %s: %#v", c.names, got)
		}
	}
}

// A name in ASCII, as nearly all are, costs no more than a look at its letters: 'x-accents'
// is how much longer a name with an accent takes.
func BenchmarkGarbled(b *testing.B) {
	many := func(name string) time.Duration {
		begun := time.Now()
		for range 1000 {
			garbled(name)
		}
		return time.Since(begun)
	}
	var plain, accents time.Duration
	for b.Loop() {
		plain += many("Brookfield-Alder, Mina")
		accents += many("Brookfield-Alder, Miná")
	}
	b.ReportMetric(float64(accents)/float64(plain), "x-accents")
}
