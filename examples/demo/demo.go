// Package demo holds the invented machines on which the examples run when they
// are given none. Its testdata folder has one machine of each type.
package demo

import _ "embed"

// Direct is the machine file of the demonstration machine, whose three servos act
// on the plate directly. It is invented.
//
//go:embed testdata/direct.json
var Direct []byte

// BellCranks is the same machine on bell cranks. It is invented.
//
//go:embed testdata/bellcranks.json
var BellCranks []byte
