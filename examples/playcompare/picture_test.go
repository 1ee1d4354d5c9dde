package main

import (
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestPicture(t *testing.T) {
	showtest.InOrder(t, command.Picture(t), "<svg", "A: the joints that give most play", "1: left rear servo gear", "B: the joints that give most play")
	command.Picture(t, "-ball", "0 mm", "-gear", "0°", "-bearing", "0 mm")
	command.Picture(t, "-a", showtest.File(t, demo.Direct, "right rear", strings.Repeat("x", 100)))
}
