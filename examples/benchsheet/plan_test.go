package main

import (
	"testing"

	"example.org/levelhead/examples/internal/show/showtest"
)

func TestPicturesOfEach(t *testing.T) {
	for _, name := range showtest.Machines {
		page(t, "-machine", "../demo/testdata/"+name+".json")
	}
}
