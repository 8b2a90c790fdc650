package main

import (
	"runtime/debug"
	"strings"
	"testing"
)

func TestDescribeBuild(t *testing.T) {
	info := debug.BuildInfo{GoVersion: "go1.26.0"}
	info.Main.Version = "v1.2.3"
	info.Settings = []debug.BuildSetting{{Key: "vcs.revision", Value: "abc123"}, {Key: "vcs.time", Value: "2026-11-28T06:54:20Z"}, {Key: "vcs.modified", Value: "false"}}
	got := describeBuild(&info)
	if !strings.HasPrefix(got, "foreply v1.2.3\nrevision abc123 of 2026-11-28\nbuilt with go1.26.0 for ") {
		t.Errorf("a tagged build: %q", got)
	}
	info.Settings[2].Value = "true"
	if got := describeBuild(&info); !strings.Contains(got, "of 2026-11-28, with changes") {
		t.Errorf("a changed build: %q", got)
	}
	info.Main.Version = "(devel)"
	if got := describeBuild(&info); !strings.HasPrefix(got, "foreply, no released version\nrevision abc123 of ") {
		t.Errorf("a build on the way: %q", got)
	}
	if got := describeBuild(&debug.BuildInfo{GoVersion: "go1.26.0"}); !strings.HasPrefix(got, "foreply, no released version\nbuilt with") {
		t.Errorf("a build outside of git: %q", got)
	}
}
