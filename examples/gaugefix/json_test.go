package main

import (
	"bytes"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/examples/internal/show/showtest"
)

func TestJSON(t *testing.T) {
	command.JSON(t, results.GaugeSession)
}

// With -ask the questions go elsewhere, so that what is printed is the result alone.
func TestJSONAsk(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run([]string{"-ask", "-json"}, strings.NewReader("skip\n\n"), &out, &errs); status != 0 || !strings.Contains(errs.String(), "read?") {
		t.Fatalf("status %d: %s", status, &errs)
	}
	showtest.CheckJSON(t, results.GaugeSession, out.Bytes())
}

// Readings that do not belong to the machine are the result, too.
func TestJSONMisfit(t *testing.T) {
	var out, errs bytes.Buffer
	file := readings(t, "blade,1,hover,100 %,,,,-9.5°")
	if status := run([]string{"-readings", file, "-json"}, strings.NewReader(""), &out, &errs); status != 1 {
		t.Fatalf("status %d: %s", status, &errs)
	}
	result := showtest.CheckJSON(t, results.GaugeSession, out.Bytes())
	misfit, _ := result["misfit"].(map[string]any)
	if misfit["kind"] != "gauge misfit error" || result["fit"] != nil {
		t.Errorf("misfit %v, fit %v", misfit, result["fit"])
	}
}
