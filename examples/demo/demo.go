// Package demo holds the invented machine on which the examples run when they
// are given none.
package demo

import _ "embed"

// Machine is the machine file of the demonstration machine. It is invented.
//
//go:embed machine.json
var Machine []byte
