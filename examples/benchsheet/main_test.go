package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/examples/demo"
	"example.org/levelhead/examples/internal/show/showtest"
	"example.org/levelhead/pitch/load"
	"example.org/levelhead/pitch/sheet"
	"example.org/levelhead/units"
)

var command showtest.Main = run

// page has the command write a page of four pictures, and returns it.
func page(t *testing.T, args ...string) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "page.html")
	if out := command.Text(t, append(args, "-html", path)...); out != "" {
		t.Errorf("printed %q besides the page", out)
	}
	html, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(showtest.Pictures(t, html)); n != 4 {
		t.Errorf("%q: %d pictures, want 4", args, n)
	}
	showtest.Sound(t, string(regexp.MustCompile(`(?s)<svg.*?</svg>|<style>.*?</style>`).ReplaceAll(html, nil)))
	return html
}

// changed writes the demonstration machine with one piece of it replaced, and
// returns the file.
func changed(t *testing.T, from, to string) string {
	t.Helper()
	if !bytes.Contains(demo.Direct, []byte(from)) {
		t.Fatalf("the demonstration machine has no %q", from)
	}
	path := filepath.Join(t.TempDir(), "machine.json")
	if err := os.WriteFile(path, bytes.ReplaceAll(demo.Direct, []byte(from), []byte(to)), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestTextOrder(t *testing.T) {
	text := command.Text(t)
	last := -1
	for _, part := range []string{
		"Before anything else", "main blades off", "Findings", "STOP ", "FIX ", "Findings are about the numbers of the machine file", "Invented for demonstration", "Neutral",
		"Links, between ball centres", "pitch link", "How to read the tables", "Uneven by is", "Play at the blade", "Flight mode \"hover\"", "Beyond ±100 %", "Flight mode \"aerobatic\"", "Flight mode \"glide", "What one step changes",
	} {
		at := strings.Index(text, part)
		if at <= last {
			t.Errorf("%q is at %d, want it after %d", part, at, last)
		}
		last = at
	}
	if n := strings.Count(text, "Beyond ±100 %"); n != 1 {
		t.Errorf("says what holds beyond ±100 %% %d times, want once", n)
	}
}

func TestTextWidth(t *testing.T) {
	long := strings.Repeat("rückwärtig ", 5) + strings.Repeat("x", 120)
	for _, args := range [][]string{
		{}, {"-machine", changed(t, "right rear", long)}, {"-machine", changed(t, `"hover"`, `"`+long+`"`)},
	} {
		command.Text(t, args...)
	}
}

// One mode leaves out what is about the others, but never a finding that says
// stop.
func TestOneMode(t *testing.T) {
	text := command.Text(t, "-mode", "glide, throttle held")
	for part, want := range map[string]bool{
		"Flight mode \"glide": true, "Flight mode \"hover\"": false, "Servo reaches its limit at stick corners (mode \"aerobatic\")": false, "Live throttle at low stick (mode \"aerobatic\")": true,
		"These steps are for mode \"hover\"": true,
	} {
		if got := strings.Contains(text, part); got != want {
			t.Errorf("%q is there: %v, want %v", part, got, want)
		}
	}
}

func TestPage(t *testing.T) {
	page := page(t, "-machine", changed(t, `"hover"`, `"<b>\"hover\" & 'more'</b>"`))
	decoder := xml.NewDecoder(bytes.NewReader(page))
	for {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		element, ok := token.(xml.StartElement)
		if !ok {
			continue
		}
		if slices.Contains([]string{"script", "link", "img", "image", "iframe"}, element.Name.Local) {
			t.Errorf("the page has a <%s>", element.Name.Local)
		}
	}
	if bytes.Contains(page, []byte("<b>\"hover")) || bytes.Contains(page, []byte("<b>&#34;hover")) {
		t.Error("a mode's name is not escaped")
	}
	bare := regexp.MustCompile(`xmlns(:\w+)?="[^"]*"`).ReplaceAll(page, nil)
	for _, ref := range []string{"http:", "https:", "src=", "href=", "url(", "@import"} {
		if bytes.Contains(bare, []byte(ref)) {
			t.Errorf("the page refers to something outside it: %s", ref)
		}
	}
	if c, f := bytes.Index(page, []byte(`class="cautions"`)), bytes.Index(page, []byte("Findings")); c < 0 || c > f {
		t.Errorf("cautions at %d, findings at %d: want cautions first", c, f)
	}
}

func TestSuitsTheDrive(t *testing.T) {
	command.SuitsTheDrive(t, func(machine, _ string) []string { return []string{"-machine", machine} })
	command.SuitsTheDrive(t, func(machine, written string) []string { return []string{"-machine", machine, "-html", written} })
}

// All the demonstration machines make a text and a page.
func TestDemos(t *testing.T) {
	files, err := filepath.Glob("../demo/testdata/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d machines, %v", len(files), err)
	}
	for _, file := range files {
		html, text := page(t, "-machine", file), command.Text(t, "-machine", file)
		four := strings.Contains(file, "fourservos")
		for _, shown := range []string{text, string(html)} {
			if strings.Contains(shown, "Strain of each link") != four {
				t.Errorf("%s: the strain of links is shown: %v, want %v", file, !four, four)
			}
			for _, part := range []string{"full forward adds", "Play at the blade", "pitch link"} {
				if !strings.Contains(shown, part) {
					t.Errorf("%s: no %q", file, part)
				}
			}
		}
	}
}

// What the machine cannot reach is shown in words, without figures, and is not said
// to clip.
func TestOutOfReach(t *testing.T) {
	short := func(horn string) string {
		return showtest.File(t, demo.Direct, `"horn_radius": "20 mm"`, `"horn_radius": "`+horn+`"`,
			`{"collective": "47 %", "right": "62 %", "forward": "56 %"}`, `{"collective": "100 %", "right": "130 %", "forward": "80 %"}`,
			`[["0 %", "-30 %"], ["50 %", "49.5 %"], ["100 %", "94 %"]]`, `[["0 %", "-100 %"], ["50 %", "0 %"], ["100 %", "100 %"]]`)
	}
	for horn, want := range map[string][]string{
		"5 mm": {
			"16 of 16 cannot be reached", "Stick 0 % cannot be reached: the pitch link", "Full right cannot be reached: the pitch link",
			"0 % -100.0 % - - - - 0.0 %", "100 % 100.0 % - - - - 78.0 %", "0 % - - - - - -", "right - - -", "0 % none - -",
		},
		"7 mm": {"10 of 16 cannot be reached", ". 5 of 16 take a servo beyond its pulse limit. High stick and full right: left rear"},
	} {
		file := short(horn)
		text := command.Words(t, "-machine", file, "-mode", "hover")
		for _, part := range want {
			if !strings.Contains(text, part) {
				t.Errorf("horn of %s: no %q in:\n%s", horn, part, text)
			}
		}
		if html := page(t, "-machine", file); !bytes.Contains(html, []byte("<tfoot>")) {
			t.Errorf("horn of %s: the page has no notes under its tables", horn)
		}
	}
}

// What words mean on the sheet is said there, and once.
func TestSaidOnce(t *testing.T) {
	for name, parts := range map[string][]string{
		"fourservos": {"16 corners are low and high stick", "type it into the file and print again.", "Pitch includes the tilt", "The tables give the smaller figure.",
			"Strain of each link in mm; + is stretched", "Force in each link in N"},
		"flybar": {"Do not enter it."},
	} {
		file := "../demo/testdata/" + name + ".json"
		words, modes := command.Words(t, "-machine", file), strings.Count(command.Text(t, "-machine", file), "Flight mode ")
		for _, part := range parts {
			want := 1
			if strings.Contains(part, " in mm") || strings.Contains(part, " in N") { // tables
				want = modes
			}
			if n := strings.Count(words, part); n != want {
				t.Errorf("%s: %q %d times, want %d", name, part, n, want)
			}
		}
	}
}

// The throttle of a motor is one to enter, and the power of an engine is not called so.
// Hovering is not the name of the mode.
func TestThrottleWords(t *testing.T) {
	for name, want := range map[string]string{
		"flybar": "Power share that holds 1500 rpm, neither climbing nor sinking stick pitch rotor power power share 0 %",
		"direct": "Throttle that holds 1700 rpm, neither climbing nor sinking stick pitch rotor power battery full",
	} {
		words := command.Words(t, "-machine", "../demo/testdata/"+name+".json")
		if !strings.Contains(words, want) || !strings.Contains(words, " Hovering flight: pitch ") || strings.Contains(words, "rpm in hover") {
			t.Errorf("%s: no %q in:\n%s", name, want, words)
		}
		if engine := name == "flybar"; strings.Contains(words, "W. Throttle") == engine || strings.Contains(words, "W. Power share") != engine {
			t.Errorf("%s: the wrong word for what hovering takes", name)
		}
	}
}

// What the load does not do is said in words.
func TestLostText(t *testing.T) {
	const d = units.Degree
	for _, tt := range []struct {
		lost load.Yield
		want string
	}{
		{load.Yield{Blade: -0.14 * d, Tilt: 0.02 * d}, "changes the pitch by -0.14° and tilts the plate by 0.02°"},
		{load.Yield{Blade: -0.14 * d, Tilt: 0.004 * d}, "changes the pitch by -0.14° and does not tilt the plate"},
		{load.Yield{Blade: -0.001 * d, Tilt: 0.3 * d}, "does not change the pitch and tilts the plate by 0.30°"},
	} {
		if got := lostText(&tt.lost); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}

func TestServoWords(t *testing.T) {
	for n, want := range map[int]string{0: "leave it", 1: "1 tooth up", -1: "1 tooth down", 2: "2 teeth up", -3: "3 teeth down"} {
		if got := teeth(n); got != want {
			t.Errorf("teeth(%d) = %q, want %q", n, got, want)
		}
	}
	tables := neutralTables(sheet.Neutral{Servos: []sheet.NeutralServo{{Name: "front", NoTrim: true}}})
	if got := tables[0].Rows[0]; got[len(got)-1] != "none is enough" {
		t.Errorf("without a sub-trim: %q", got)
	}
}

func TestClearDiagonal(t *testing.T) {
	const d = units.Degree
	for _, tt := range []struct {
		bearings []units.Angle
		want     units.Angle
	}{
		{[]units.Angle{0, 120 * d, 240 * d}, 45 * d},
		{[]units.Angle{180 * d, -42 * d, 42 * d}, 135 * d},
		{nil, 45 * d},
	} {
		if got := clearDiagonal(tt.bearings); units.Round(got-tt.want, 6) != 0 {
			t.Errorf("clear of %v: %v, want %v", tt.bearings, got, tt.want)
		}
	}
}

// A mode whose targets are out of reach says so and has no tables; the others
// have theirs.
func TestUnmetTargets(t *testing.T) {
	file := changed(t, `"pitch": "11°"`, `"pitch": "39°"`)
	text := command.Text(t, "-machine", file)
	_, mode, _ := strings.Cut(text, "Flight mode \"aerobatic\"")
	mode, _, _ = strings.Cut(mode, "Flight mode \"")
	if !strings.Contains(mode, "Targets out of reach: ") || strings.Contains(mode, "gauge reads") {
		t.Errorf("the mode reads:\n%s", mode)
	}
	if !strings.Contains(text, "Circular cyclic limit") {
		t.Error("the other modes have no tables")
	}
	page(t, "-machine", file)
}

func TestErrors(t *testing.T) {
	broken := filepath.Join(t.TempDir(), "broken.json")
	if err := os.WriteFile(broken, []byte("{\n  \"name\": \n"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name   string
		args   []string
		status int
		want   []string // parts of the message
	}{
		{"unknown mode", []string{"-mode", "warp"}, 1, []string{`"warp"`, `"hover"`, `"aerobatic"`, `"glide, throttle held"`}},
		{"unknown flag", []string{"-warp"}, 2, []string{"-warp"}},
		{"file without flag", []string{"machine.json"}, 2, []string{`"machine.json"`, "-machine"}},
		{"no such file", []string{"-machine", "no such file.json"}, 1, []string{"no such file.json: there is no such file here; check"}},
		{"help", []string{"-h"}, 0, []string{"benchsheet shows what is wrong", "-machine"}},
		{"malformed file", []string{"-machine", broken}, 1, []string{broken, "line"}},
		{"unknown field", []string{"-machine", changed(t, `"pulse_step"`, `"puls_step"`)}, 1, []string{"radio.puls_step", "line"}},
		{"unit missing", []string{"-machine", changed(t, `"60 mm"`, `"60"`)}, 1, []string{"plate.neutral_height", "line"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var out, errs bytes.Buffer
			if status := run(tt.args, &out, &errs); status != tt.status {
				t.Errorf("status %d, want %d", status, tt.status)
			}
			for _, part := range tt.want {
				if !strings.Contains(errs.String(), part) {
					t.Errorf("%q does not say %q", &errs, part)
				}
			}
			if out.Len() > 0 {
				t.Errorf("printed %q", &out)
			}
		})
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteError(t *testing.T) {
	var errs bytes.Buffer
	if status := run(nil, fullDisk{}, &errs); status != 1 || !strings.Contains(errs.String(), "disk full") {
		t.Errorf("status %d, message %q; want 1 and the disk full", status, &errs)
	}
}
