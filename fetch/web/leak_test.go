package web

import (
	"testing"

	"go.uber.org/goleak"
)

// All tests of this package together leave no goroutine behind: no body that is still
// read, no wait, no connection that nobody closes.
func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }
