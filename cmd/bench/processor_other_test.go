//go:build !unix

package bench

import "time"

// processorTime is not known here.
func processorTime() time.Duration { return 0 }
