package main

import (
	"bytes"
	_ "embed"
	"html/template"
	"io"

	"example.org/levelhead/examples/internal/files"
	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
	"example.org/levelhead/pitch/sheet"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{"symbol": symbol, "tie": show.Tie, "where": where, "sentence": sentence}).Parse(pageSource))

// symbol returns a shape for a severity, so that it shows without colour.
func symbol(s sheet.Severity) string {
	switch s {
	case sheet.Stop:
		return "■"
	case sheet.Fix:
		return "▲"
	}
	return "●"
}

// savePage writes the page to a file.
func savePage(path string, rig *setup.Rig, s *sheet.Sheet) error {
	var page bytes.Buffer
	if err := writePage(&page, rig, s); err != nil {
		return err
	}
	return files.Write(path, page.Bytes())
}

// writePage writes the sheet as one page that needs nothing else.
func writePage(w io.Writer, rig *setup.Rig, s *sheet.Sheet) error {
	pictures, err := pictures(rig, s)
	if err != nil {
		return err
	}
	return pageTemplate.Execute(w, map[string]any{
		"Sheet":        s,
		"None":         none,
		"Looked":       looked,
		"Pictures":     pictures,
		"NeutralTitle": neutralTitle,
		"Neutral":      []string{neutralText(s.Neutral), directions, asFiled},
		"Tables":       neutralTables(s.Neutral),
		"ReadingTitle": readingTitle,
		"Reading":      readingTexts(rig, s),
		"Modes":        modeViews(rig, s),
		"StepTitle":    stepsTitle(s),
		"StepText":     stepsText(s),
		"Steps":        stepsTable(s.Steps),
	})
}
