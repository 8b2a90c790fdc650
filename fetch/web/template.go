package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"
)

// Template is a text with places in braces, such as {player} or {from:ms}.
type Template struct {
	text  string
	parts []part
}

// part is literal text, or a place if it has a name.
type part struct {
	text       string
	name, form string
}

// places are the names of places and the forms that each may have behind a
// colon; the first is the default, if it is empty.
var places = []struct {
	name  string
	forms []string
}{
	{"player", []string{""}},
	{"from", []string{"ms", "s", "date", "time"}},
	{"to", []string{"ms", "s", "date", "time"}},
	{"year", []string{""}},
	{"month", []string{"", "plain"}},
	{"page", []string{"", "0"}},
	{"address", []string{""}},
	{"token", []string{""}},
}

// ParseTemplate reads a text with places. The error says what is known.
func ParseTemplate(text string) (Template, error) {
	t := Template{text: text}
	for rest := text; rest != ""; {
		literal, place, found := strings.Cut(rest, "{")
		if strings.Contains(literal, "}") {
			return t, fmt.Errorf("a } without its {")
		}
		if literal != "" {
			t.parts = append(t.parts, part{text: literal})
		}
		if !found {
			break
		}
		inside, after, closed := strings.Cut(place, "}")
		if !closed {
			return t, fmt.Errorf("{%s is not closed by }", place)
		}
		name, form, _ := strings.Cut(inside, ":")
		if err := checkPlace(name, form); err != nil {
			return t, err
		}
		t.parts = append(t.parts, part{name: name, form: form})
		rest = after
	}
	return t, nil
}

func checkPlace(name, form string) error {
	var known []string
	for _, p := range places {
		switch {
		case p.name != name:
			known = append(known, written(p.name, p.forms[0]))
		case !slices.Contains(p.forms, form):
			var ways []string
			for _, f := range p.forms {
				ways = append(ways, written(name, f))
			}
			return fmt.Errorf("%s is written %s", written(name, form), strings.Join(ways, ", "))
		default:
			return nil
		}
	}
	return fmt.Errorf("nothing is known to put for {%s}; known are %s", name, strings.Join(known, " "))
}

func written(name, form string) string {
	if form == "" {
		return "{" + name + "}"
	}
	return "{" + name + ":" + form + "}"
}

func (t Template) String() string { return t.text }

func (t Template) has(name string) bool {
	return slices.ContainsFunc(t.parts, func(p part) bool { return p.name == name })
}

// values are what stands for the places of one request.
type values struct {
	player   string
	from, to time.Time // from is zero when nothing was fetched yet
	month    Month
	page     int    // from 1
	address  string // of a list
	token    Secret
}

// fill puts the values in. Those of the path and of the query are escaped, the
// address of a list is taken as it is.
func (t Template) fill(v values) string {
	var out strings.Builder
	escape := url.PathEscape
	for _, p := range t.parts {
		switch p.name {
		case "":
			out.WriteString(p.text)
			if strings.Contains(p.text, "?") {
				escape = url.QueryEscape
			}
		case "address":
			out.WriteString(v.address)
			if strings.Contains(v.address, "?") {
				escape = url.QueryEscape
			}
		default:
			out.WriteString(escape(v.of(p)))
		}
	}
	return out.String()
}

// query puts the values into a part of a query that stands by itself.
func (t Template) query(v values) string { return t.with(v, url.QueryEscape) }

// plain puts the values in as they are.
func (t Template) plain(v values) string { return t.with(v, func(text string) string { return text }) }

func (t Template) with(v values, escape func(string) string) string {
	var out strings.Builder
	for _, p := range t.parts {
		if p.name == "" {
			out.WriteString(p.text)
		} else {
			out.WriteString(escape(v.of(p)))
		}
	}
	return out.String()
}

func (v values) of(p part) string {
	switch p.name {
	case "player":
		return v.player
	case "from":
		return instant(v.from, p.form)
	case "to":
		return instant(v.to, p.form)
	case "year":
		return fmt.Sprintf("%04d", v.month.Year)
	case "month":
		if p.form == "plain" {
			return strconv.Itoa(int(v.month.Month))
		}
		return fmt.Sprintf("%02d", int(v.month.Month))
	case "page":
		if p.form == "0" {
			return strconv.Itoa(v.page - 1)
		}
		return strconv.Itoa(v.page)
	}
	return string(v.token)
}

// instant writes a time as milliseconds or seconds since 1970, as a day, or as a
// day and time (RFC 3339), all in UTC.
func instant(t time.Time, form string) string {
	if t.IsZero() {
		t = time.Unix(0, 0)
	}
	switch form {
	case "ms":
		return strconv.FormatInt(t.UnixMilli(), 10)
	case "s":
		return strconv.FormatInt(t.Unix(), 10)
	case "date":
		return t.UTC().Format(time.DateOnly)
	}
	return t.UTC().Format(time.RFC3339)
}
