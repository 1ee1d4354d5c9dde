package main

import (
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
)

func TestPictureOfEach(t *testing.T) {
	command.PictureOfEach(t, showtest.Loaded)
}
