package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"foreply/fetch"
	"foreply/fetch/web"
)

// config is what a configuration file may say, and what 'foreply field' writes into a
// folder's. Lists carry ids, since the library folds the case of keys: a name is never a
// key.
type config struct {
	Me        meConfig         `yaml:"me,omitempty"`
	Opponents []opponentConfig `yaml:"opponents,omitempty"`
	Sources   []sourceConfig   `yaml:"sources,omitempty"`
	Sheet     sheetConfig      `yaml:"sheet,omitempty"`
	Walk      walkConfig       `yaml:"walk,omitempty"`
	Peers     []string         `yaml:"peers,omitempty"` // games of players like the opponents
	Cache     string           `yaml:"cache,omitempty"` // folder of the imported games
	Engine    engineConfig     `yaml:"engine,omitempty"`
}

type meConfig struct {
	Names      []string         `yaml:"names,omitempty"`
	Games      []string         `yaml:"games,omitempty"` // own games, to tell what can be known of the user
	Repertoire repertoireConfig `yaml:"repertoire,omitempty"`
}

type repertoireConfig struct {
	White []string `yaml:"white,omitempty"`
	Black []string `yaml:"black,omitempty"`
	Main  []string `yaml:"main,omitempty"` // chapters that come first
}

type opponentConfig struct {
	ID      string   `yaml:"id,omitempty"`
	Name    string   `yaml:"name,omitempty"`     // as the sheet prints it; else the first of Names
	Names   []string `yaml:"names,omitempty"`    // names and handles as the games have them
	Unsure  []string `yaml:"unsure,omitempty"`   // handles that may be somebody else's
	FideIDs []string `yaml:"fide_ids,omitempty"` // decide where a game gives one
	Rating  int      `yaml:"rating,omitempty"`   // to choose peers by; 0: that of their newest game

	Handles []handleConfig `yaml:"handles,omitempty"`
}

// handleConfig is what an opponent is called at one source.
type handleConfig struct {
	Source string `yaml:"source,omitempty"`
	Handle string `yaml:"handle,omitempty"`
}

// sourceConfig is files, or a server: then it has a URL, and what follows it is
// as in web.Description.
type sourceConfig struct {
	ID        string   `yaml:"id,omitempty"`
	Files     []string `yaml:"files,omitempty"`
	Mixed     bool     `yaml:"mixed,omitempty"` // the files are from several places
	URL       string   `yaml:"url,omitempty"`
	Query     []string `yaml:"query,omitempty"`
	Headers   []string `yaml:"headers,omitempty"`
	TokenFrom string   `yaml:"token_from,omitempty"`
	Pages     string   `yaml:"pages,omitempty"`
	Start     string   `yaml:"start,omitempty"`
	StopAfter int      `yaml:"stop_after,omitempty"`
	List      string   `yaml:"list,omitempty"`
	ListPath  string   `yaml:"list_path,omitempty"`
	MaxMB     int      `yaml:"max_mb,omitempty"`
	Pace      float64  `yaml:"pace,omitempty"`
}

type sheetConfig struct {
	Paper   string `yaml:"paper,omitempty"`
	Half    bool   `yaml:"half,omitempty"`
	Large   bool   `yaml:"large,omitempty"`
	OnePage bool   `yaml:"one_page,omitempty"`
	Event   string `yaml:"event,omitempty"`
	Round   string `yaml:"round,omitempty"`
	Board   string `yaml:"board,omitempty"`
	Date    string `yaml:"date,omitempty"` // of the game, YYYY-MM-DD
	Clock   string `yaml:"clock,omitempty"`

	Need        string `yaml:"need,omitempty"` // win, draw or any
	DoubleRound bool   `yaml:"double_round,omitempty"`
	Minutes     int    `yaml:"minutes,omitempty"` // of work tonight; 0 for the default
}

type walkConfig struct {
	Plies     int     `yaml:"plies,omitempty"`     // how deep lines are followed
	Threshold float64 `yaml:"threshold,omitempty"` // the least reach that is followed
	FewGames  int     `yaml:"few_games,omitempty"` // up to so many games are listed, not counted
}

// engineConfig is a chess engine on the user's machine.
type engineConfig struct {
	Command string   `yaml:"command,omitempty"` // its program, with arguments; none: no engine
	Options []string `yaml:"options,omitempty"` // of the engine, each as Name=value
	Nodes   int      `yaml:"nodes,omitempty"`   // that each position is looked at for
	Threads int      `yaml:"threads,omitempty"` // of each process
	Hash    int      `yaml:"hash,omitempty"`    // MB of each process
	Time    string   `yaml:"time,omitempty"`    // for all positions together, as 3m
	Cache   string   `yaml:"cache,omitempty"`   // folder of what it found
}

var configType = reflect.TypeFor[config]()

const (
	configName = "foreply.yaml"
	envPrefix  = "FOREPLY_"
	// keyDelim keeps the library from reading 'sheet.paper' as a path.
	keyDelim = "::"
)

// flagOf names the flag that gives a single value of the configuration.
var flagOf = map[string]string{
	"sheet.paper": "paper", "sheet.half": "half", "sheet.large": "large", "sheet.one_page": "one-page",
	"sheet.event": "event", "sheet.round": "round", "sheet.board": "board", "sheet.date": "date", "sheet.clock": "clock",
	"sheet.need": "need", "sheet.double_round": "double-round", "sheet.minutes": "minutes", "cache": "cache",
	"engine.command": "engine", "engine.time": "engine-time",
}

// settings is the configuration in force: flags win over the environment, that
// over the file.
type settings struct {
	config
	file   string // the file that was read, empty for none
	lines  map[string]int
	paths  map[string]string // files of the configuration: the key that names each
	flags  *pflag.FlagSet
	web    map[string]*web.Source // the servers among the sources, by id
	unread error                  // why the user's own file could not be read
	held   []string               // what the file asks of the engine and doesn't get, for messages

	tokensHeld map[string]string // servers that get no token, by id: where the file asks for it
}

// loadConfig reads the file at path or, if path is empty, the first of the
// usual places that has one; having none is fine then.
func loadConfig(path string, flags *pflag.FlagSet) (*settings, error) {
	file, text, unread, err := findConfig(path)
	if err != nil {
		return nil, err
	}
	s, err := readSettings(file, text, flags)
	if err != nil {
		return nil, err
	}
	s.unread = unread
	if path == "" && file == configName {
		s.holdBack()
	}
	return s, s.validate()
}

// readSettings takes the values from a file's text, the environment and flags; what they
// mean is for validate.
func readSettings(file string, text []byte, flags *pflag.FlagSet) (*settings, error) {
	shape := checkShape(file, text, configType)
	if errs := append(shape.errs, checkEnv()...); len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	s := &settings{file: file, lines: shape.lines, flags: flags, web: map[string]*web.Source{}}
	if err := s.decode(text); err != nil {
		return nil, err
	}
	s.resolve()
	return s, nil
}

// findConfig returns the file's path and text. That the user's own folder can't be read
// is no error yet: flags may say all that is needed.
func findConfig(path string) (file string, text []byte, unread, err error) {
	if path != "" {
		text, err = readConfig(path)
		if errors.Is(err, fs.ErrNotExist) {
			err = advise(err, "'foreply init "+path+"' writes a commented one")
		}
		return path, text, nil, err
	}
	switch text, err = readConfig(configName); {
	case err == nil:
		return configName, text, nil, nil
	case !errors.Is(err, fs.ErrNotExist):
		return "", nil, nil, err
	}
	own := ownConfig()
	if own == "" {
		return "", nil, nil, nil
	}
	switch text, err = readConfig(own); {
	case err == nil:
		return own, text, nil, nil
	case errors.Is(err, errLongConfig):
		return "", nil, nil, err
	case !errors.Is(err, fs.ErrNotExist):
		return "", nil, err, nil
	}
	return "", nil, nil, nil
}

// mostConfig is the size of a configuration, in bytes: far more than the players of
// mostEntrants take.
const mostConfig = 2 << 20

var errLongConfig = errors.New("is it the right file?")

func readConfig(path string) ([]byte, error) {
	f, err := fetch.OpenPlain(path)
	if err != nil {
		return nil, hinted(fmt.Errorf("reading the configuration: %w", err))
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostConfig+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("reading the configuration: %w", err)
	case len(text) > mostConfig:
		return nil, fmt.Errorf("reading the configuration: %s has more than %d MB, the most for a configuration: %w", path, mostConfig>>20, errLongConfig)
	}
	return text, nil
}

// hinted adds to the hints of an error about something missing from the configuration
// that one could not be read.
func (s *settings) hinted(hints ...string) []string {
	if s.unread != nil {
		hints = append(hints, fmt.Sprint("your own configuration was not read: ", s.unread))
	}
	return hints
}

// notFound says where a configuration was looked for in vain: who calls for an id has one,
// perhaps in another folder.
func (s *settings) notFound() []string {
	if s.file != "" || s.unread != nil {
		return nil
	}
	return []string{"there is no " + configName + " in this folder, nor in your configuration folder; --config FILE names one elsewhere"}
}

// ownConfig is the place of the configuration in the user's own folder, "" if the
// system knows none.
func ownConfig() string {
	folder, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(folder, "foreply", configName)
}

// decode merges file, environment and flags.
func (s *settings) decode(text []byte) error {
	v := viper.NewWithOptions(viper.KeyDelimiter(keyDelim))
	v.SetConfigType("yaml")
	if err := v.ReadConfig(bytes.NewReader(text)); err != nil {
		return fmt.Errorf("reading %s: %w", s.file, err)
	}
	for path := range leaves(configType) {
		key := strings.ReplaceAll(path, ".", keyDelim)
		if err := v.BindEnv(key, envName(path)); err != nil {
			return err
		}
		if f := s.flag(path); f != nil {
			if err := v.BindPFlag(key, f); err != nil {
				return err
			}
		}
	}
	byTag := func(c *mapstructure.DecoderConfig) { c.TagName = "yaml" } // those that we write by, too
	if err := v.UnmarshalExact(&s.config, byTag); err != nil {
		return fmt.Errorf("reading %s: %w", s.file, err)
	}
	return nil
}

// flag returns the flag for a path, if the command has it and it was given.
func (s *settings) flag(path string) *pflag.Flag {
	if s.flags == nil {
		return nil
	}
	if f := s.flags.Lookup(flagOf[path]); f != nil && f.Changed {
		return f
	}
	return nil
}

// leaves returns the paths of all single values outside lists, with their kinds:
// those that the environment may give.
func leaves(t reflect.Type) map[string]reflect.Kind {
	out := map[string]reflect.Kind{}
	for _, f := range reflect.VisibleFields(t) {
		switch f.Type.Kind() {
		case reflect.Slice:
		case reflect.Struct:
			for path, kind := range leaves(f.Type) {
				out[join(keyOf(f), path)] = kind
			}
		default:
			out[keyOf(f)] = f.Type.Kind()
		}
	}
	return out
}

func envName(path string) string {
	if path == "engine.command" {
		path = "engine"
	}
	return envPrefix + strings.ToUpper(strings.ReplaceAll(path, ".", "_"))
}

// checkEnv finds variables that mean nothing here, and numbers and switches that
// are none.
func checkEnv() []error {
	kinds := map[string]reflect.Kind{}
	for path, kind := range leaves(configType) {
		kinds[envName(path)] = kind
	}
	names := make([]string, 0, len(kinds))
	for n := range kinds {
		names = append(names, n)
	}
	slices.Sort(names)
	var errs []error
	for _, pair := range slices.Sorted(slices.Values(os.Environ())) {
		n, value, _ := strings.Cut(pair, "=")
		if !strings.HasPrefix(n, envPrefix) || value == "" {
			continue
		}
		kind, known := kinds[n]
		if !known {
			hint := "known are " + strings.Join(names, ", ")
			if near, ok := nearest(n, names); ok {
				hint = fmt.Sprintf("did you mean %s?", near)
			}
			errs = append(errs, advise(fmt.Errorf("unknown environment variable %s", n), hint))
		} else if err := readsAs(value, kind); err != nil {
			errs = append(errs, fmt.Errorf("%s: %w", n, err))
		}
	}
	return errs
}

// readsAs checks that text is of a kind; any text is one.
func readsAs(text string, kind reflect.Kind) error {
	switch kind {
	case reflect.Bool:
		if _, err := strconv.ParseBool(text); err != nil {
			return fmt.Errorf("true or false is wanted, not %q", text)
		}
	case reflect.Int:
		if _, err := strconv.Atoi(text); err != nil {
			return fmt.Errorf("a whole number is wanted, not %q", text)
		}
	case reflect.Float64:
		if _, err := strconv.ParseFloat(text, 64); err != nil {
			return fmt.Errorf("a number is wanted, not %q", text)
		}
	}
	return nil
}

// origin says where a single value came from, for messages; empty if nowhere.
func (s *settings) origin(path string) string {
	if f := s.flag(path); f != nil {
		return "--" + f.Name
	}
	if os.Getenv(envName(path)) != "" {
		return envName(path)
	}
	return s.inFile(path)
}

// inFile is the place of a key in the file: 'foreply.yaml:12: sheet.paper'.
func (s *settings) inFile(path string) string {
	if line, ok := s.lines[path]; ok {
		return fmt.Sprintf("%s:%d: %s", s.file, line, path)
	}
	return ""
}
