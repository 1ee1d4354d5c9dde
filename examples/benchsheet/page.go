package main

import (
	_ "embed"
	"html/template"
	"io"

	"example.org/levelhead/examples/internal/show"
	"example.org/levelhead/pitch/setup"
)

//go:embed page.html
var pageSource string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{"symbol": symbol, "tie": show.Tie}).Parse(pageSource))

// symbol returns a shape for a severity, so that it shows without colour.
func symbol(s setup.Severity) string {
	switch s {
	case setup.Stop:
		return "■"
	case setup.Fix:
		return "▲"
	}
	return "●"
}

// pageMode is a flight mode as the page shows it.
type pageMode struct {
	Name   string
	Facts  []fact
	Stick  []*show.Table // over the collective stick
	Limits []*show.Table // of cyclic, and the targets
}

// writePage writes the sheet as one page that needs nothing else.
func writePage(w io.Writer, rig *setup.Rig, s *setup.Sheet) error {
	pictures, err := pictures(rig, s)
	if err != nil {
		return err
	}
	var modes []pageMode
	for _, m := range s.Modes {
		modes = append(modes, pageMode{m.Name, facts(rig, m), stickTables(rig, m), limitTables(m)})
	}
	return pageTemplate.Execute(w, map[string]any{
		"Sheet":     s,
		"Pictures":  pictures,
		"Neutral":   neutralText(s.Neutral),
		"Legs":      neutralTable(s.Neutral),
		"Bearings":  bearings,
		"Gauge":     gaugeText(rig),
		"Modes":     modes,
		"StepTitle": stepsTitle(rig),
		"StepText":  stepsText,
		"Steps":     stepsTable(s.Steps),
	})
}
