package showtest

import (
	"strings"
	"testing"
)

func TestLayout(t *testing.T) {
	const (
		open = `<svg width="100%" viewBox="0 0 100 50"><g transform="translate(0, 50) scale(1, -1)">`
		text = `<text x="10" y="-20" textLength="40" transform="scale(1, -1)" style="font-size:8px">first</text>`
	)
	for _, tt := range []struct{ svg, fault string }{
		{open + text, ""},
		{open + text + strings.NewReplacer("10", "51", "first", "second").Replace(text), ""},
		{open + text + `<path d="M0,10L100,10M5,0L5,50" style="fill:none;stroke:#000000"/>`, ""},
		{`<svg width="100pt" height="50pt" viewBox="0 0 100 50"><g>`, "does not scale"},
		{open + strings.Replace(text, "10", "61", 1), "is cut"},
		{open + strings.Replace(text, "10", "0.5", 1), "is cut"},
		{open + strings.Replace(text, "-20", "-45", 1), "is cut"},
		{open + strings.Replace(text, "-20", "-2", 1), "is cut"},
		{open + `<g transform="rotate(90)">` + text + `</g>`, "is cut"},
		{open + text + strings.NewReplacer("10", "49", "first", "second").Replace(text), `"second" at 49 to 89 across, 24 to 32 down runs into "first"`},
		{open + text + `<path d="M0,0L60,50" style="fill:none;stroke:#000000"/>`, "a line through"},
		{open + strings.Replace(text, "textLength", "length", 1), "hangs on the font"},
		{open + strings.Replace(text, "8px", "5px", 1), "5 points"},
		{open + strings.Replace(text, "scale(", "skewX(", 1), "not looked at"},
	} {
		_, faults := read(t, []byte(tt.svg+"</g></svg>"))
		if all := strings.Join(faults, "; "); tt.fault == "" && all != "" || !strings.Contains(all, tt.fault) {
			t.Errorf("faults %q, want %q, of\n%s", all, tt.fault, tt.svg)
		}
	}
}
