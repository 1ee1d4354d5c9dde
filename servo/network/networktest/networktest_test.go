package networktest_test

import (
	"testing"

	"example.org/levelhead/servo/network/networktest"
)

func TestNothing(t *testing.T) { _ = networktest.Check }
