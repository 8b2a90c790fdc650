package main

import (
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// shape is what the text of a configuration file is checked against before its
// values are taken: the configuration library passes over unknown keys, turns
// 3.9 into 3 and splits 'Last, First' at the comma. It remembers on which line
// each key stands, for the checks that come later.
type shape struct {
	file  string
	lines map[string]int // by path, as in sources[1]/files
	errs  []error
}

// checkShape compares a YAML text with a struct type, key by key.
func checkShape(file string, text []byte, like reflect.Type) *shape {
	s := &shape{file: file, lines: map[string]int{}}
	decoder := yaml.NewDecoder(strings.NewReader(string(text)))
	var doc yaml.Node
	switch err := decoder.Decode(&doc); {
	case errors.Is(err, io.EOF):
		return s
	case err != nil:
		s.errs = append(s.errs, advise(fmt.Errorf("reading %s: %w", file, yamlError(err)),
			"the file is YAML: lists begin with '- ', nested keys are indented by spaces"))
		return s
	}
	if decoder.Decode(new(yaml.Node)) == nil {
		s.errs = append(s.errs, fmt.Errorf("%s: a second document begins behind '---'", file))
	}
	s.value("", doc.Content[0], like)
	return s
}

// yamlError drops the library's name from a message.
func yamlError(err error) error {
	return errors.New(strings.TrimPrefix(strings.ReplaceAll(err.Error(), "\n", " "), "yaml: "))
}

func (s *shape) fault(n *yaml.Node, hint, format string, args ...any) {
	err := fmt.Errorf("%s:%d:%d: %s", s.file, n.Line, n.Column, fmt.Sprintf(format, args...))
	if hint != "" {
		err = advise(err, hint)
	}
	s.errs = append(s.errs, err)
}

func (s *shape) value(path string, n *yaml.Node, like reflect.Type) {
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" { // a key without a value is as good as none
		return
	}
	s.lines[path] = n.Line
	switch {
	case n.Kind == yaml.AliasNode:
		s.fault(n, "write the value out", "references (*%s) are not read here", n.Value)
	case like.Kind() == reflect.Struct:
		s.fields(path, n, like)
	case like.Kind() == reflect.Slice:
		s.list(path, n, like)
	default:
		s.scalar(path, n, like)
	}
}

func (s *shape) fields(path string, n *yaml.Node, like reflect.Type) {
	if n.Kind != yaml.MappingNode {
		s.fault(n, "", "%s has keys of its own: %s", name(path), strings.Join(keys(like), ", "))
		return
	}
	seen := map[string]bool{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		field, ok := fieldOf(like, key.Value)
		if !ok {
			s.unknown(path, key, like)
			continue
		}
		if seen[key.Value] {
			s.fault(key, "keep one of them", "%s is given twice", join(path, key.Value))
		}
		seen[key.Value] = true
		s.value(join(path, key.Value), value, field.Type)
	}
}

func (s *shape) unknown(path string, key *yaml.Node, like reflect.Type) {
	known := keys(like)
	hint := "known here: " + strings.Join(known, ", ")
	if near, ok := nearest(key.Value, known); ok {
		hint = fmt.Sprintf("did you mean %s?", near)
	} else if at := elsewhere(key.Value); at != "" {
		hint = fmt.Sprintf("%s belongs under %s", key.Value, at)
	}
	s.fault(key, hint, "unknown key %s", join(path, key.Value))
}

// elsewhere names the section that has a key of this name.
func elsewhere(key string) string {
	_, key, _ = cutLast(key, ".")
	for _, section := range reflect.VisibleFields(configType) {
		t := section.Type
		if t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() == reflect.Struct && slices.Contains(keys(t), key) {
			return keyOf(section)
		}
	}
	return ""
}

func cutLast(text, sep string) (before, after string, found bool) {
	i := strings.LastIndex(text, sep)
	if i < 0 {
		return "", text, false
	}
	return text[:i], text[i+len(sep):], true
}

func (s *shape) list(path string, n *yaml.Node, like reflect.Type) {
	if n.Kind != yaml.SequenceNode {
		hint := "begin each entry with '- '"
		if n.Kind == yaml.ScalarNode {
			hint = fmt.Sprintf("write it as a list: %s: [%q]", lastKey(path), n.Value)
		}
		s.fault(n, hint, "%s is a list", name(path))
		return
	}
	for i, item := range n.Content {
		s.value(fmt.Sprintf("%s[%d]", path, i), item, like.Elem())
	}
}

func (s *shape) scalar(path string, n *yaml.Node, like reflect.Type) {
	wanted, hint := "text", fmt.Sprintf("put it in quotes: %q", n.Value)
	tags := []string{"!!str"}
	switch like.Kind() {
	case reflect.Int:
		wanted, hint, tags = "a whole number", "", []string{"!!int"}
	case reflect.Float64:
		wanted, hint, tags = "a number", "", []string{"!!int", "!!float"}
	case reflect.Bool:
		wanted, hint, tags = "true or false", "", []string{"!!bool"}
	}
	if n.Kind != yaml.ScalarNode {
		s.fault(n, "", "%s is %s, not a list or a section", name(path), wanted)
		return
	}
	if !slices.Contains(tags, n.ShortTag()) {
		s.fault(n, hint, "%s is %s, not %s", name(path), wanted, n.Value)
	}
}

// keys lists the keys of a section in the order they are documented.
func keys(like reflect.Type) []string {
	var out []string
	for _, f := range reflect.VisibleFields(like) {
		if key := keyOf(f); key != "" {
			out = append(out, key)
		}
	}
	return out
}

func keyOf(f reflect.StructField) string {
	key, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	return key
}

func fieldOf(like reflect.Type, key string) (reflect.StructField, bool) {
	for _, f := range reflect.VisibleFields(like) {
		if keyOf(f) == key && key != "" {
			return f, true
		}
	}
	return reflect.StructField{}, false
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func lastKey(path string) string {
	_, key, _ := cutLast(path, ".")
	return key
}

func name(path string) string {
	if path == "" {
		return "the configuration"
	}
	return path
}
