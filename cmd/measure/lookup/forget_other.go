//go:build !linux

package main

import "time"

// forget does nothing: the first round may be warm here.
func forget(string) error { return nil }

// processorTime is not known here.
func processorTime() time.Duration { return 0 }

// waited is not known here.
func waited() time.Duration { return 0 }
