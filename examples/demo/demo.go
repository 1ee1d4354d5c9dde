// Package demo holds the invented machines on which the examples run when they
// are given none. Its testdata folder has one machine of each type, each a machine of
// its own.
package demo

import _ "embed"

// Direct is the machine file of an invented trainer, whose three servos act on the
// plate directly.
//
//go:embed testdata/direct.json
var Direct []byte

// BellCranks is the machine file of an invented contest machine on bell cranks.
//
//go:embed testdata/bellcranks.json
var BellCranks []byte
