package main

import (
	"fmt"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "say which foreply this is",
		Long:  "version prints the version, the revision it was built from, and the Go it was built with.",
		Args:  noArgs,
		RunE:  func(*cobra.Command, []string) error { return a.version() },
	}
}

func (a *app) version() error {
	_, err := fmt.Fprint(a.stdout, versionText())
	return err
}

// versionText is what the build says of itself. There is no number to keep up by
// hand: the tag and the revision come from git, by way of the Go command.
func versionText() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{GoVersion: runtime.Version()}
	}
	return describeBuild(info)
}

// describeBuild is versionText for a given build.
func describeBuild(info *debug.BuildInfo) string {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	var b strings.Builder
	switch v := info.Main.Version; v {
	case "", "(devel)":
		b.WriteString("foreply, no released version\n")
	default:
		fmt.Fprintf(&b, "foreply %s\n", v)
	}
	if rev := set["vcs.revision"]; rev != "" {
		day, _, _ := strings.Cut(set["vcs.time"], "T")
		fmt.Fprintf(&b, "revision %s of %s", rev, day)
		if set["vcs.modified"] == "true" {
			b.WriteString(", with changes that are in no revision")
		}
		b.WriteByte('\n')
	}
	fmt.Fprintf(&b, "built with %s for %s/%s\n", info.GoVersion, runtime.GOOS, runtime.GOARCH)
	return b.String()
}

// noArgs accepts nothing but flags.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return misuse(fmt.Sprintf("%s takes no %q", cmd.CommandPath(), args[0]))
	}
	return nil
}
