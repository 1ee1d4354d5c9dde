package showtest

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"
)

// slips are what nobody should have to read.
var slips = map[string]*regexp.Regexp{
	"one maker's word":       regexp.MustCompile(`(?i)function rate`),
	"a number's exponent":    regexp.MustCompile(`\d[eE][-+]?\d`),
	"no number":              regexp.MustCompile(`\bNaN\b|\bInf\b`),
	"a formatting fault":     regexp.MustCompile(`%!`),
	"a zero with a sign":     regexp.MustCompile(`(^|[\s(,;:"])-0(\.0+)?($|[^\d.])`),
	"an article and a vowel": regexp.MustCompile(`\ba (akima|8\b|8\d|11\b|18\b)`),
}

// words are those that the glossary of DEVELOPERS.md has a plainer or a standard one for.
var words = regexp.MustCompile(`(?i)\b(lean(s|ing|ed)?|slop|lash|horn links?|paddle[ -]bars?|round limits?|clip(s|ped|ping)?|` +
	`azimuth|residue|settled|fitted|likeliest|standard deviations?|root-sum-square|chi-square|9\d cases|carr(y|ied|ies) over|leg \d|will do)\b`)

// longest is how many words a sentence may have.
const longest = 25

var (
	cell = regexp.MustCompile(`\S {2,}\S`) // columns of a table stand two spaces apart
	stop = regexp.MustCompile(`[.!?:;]["”)]?(\s+|$)`)
)

// Sentences returns the sentences of what a main prints: what its tables hold is none.
func Sentences(text string) []string {
	var paragraph []string
	var sentences []string
	end := func() {
		for _, s := range stop.Split(strings.Join(paragraph, " "), -1) {
			if s = strings.TrimSpace(s); s != "" {
				sentences = append(sentences, s)
			}
		}
		paragraph = nil
	}
	indent := func(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
	last := 0
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, " \n")
		trimmed := strings.TrimSpace(line)
		if strings.Trim(trimmed, "-") == "" || cell.MatchString(trimmed) || indent(line) < last {
			end()
		}
		if !cell.MatchString(trimmed) {
			paragraph = append(paragraph, trimmed)
		}
		last = indent(line)
	}
	end()
	return sentences
}

// wordsIn counts words, and not numbers and signs.
func wordsIn(s string) (n int) {
	for _, word := range strings.Fields(s) {
		if strings.ContainsFunc(word, unicode.IsLetter) {
			n++
		}
	}
	return n
}

// Plain checks that a text has none of the words of the glossary that are not to be used,
// and no sentence that is too long.
func Plain(t *testing.T, text string) {
	t.Helper()
	for _, s := range Sentences(text) {
		if found := words.FindString(s); found != "" {
			t.Errorf("%q in %q", found, s)
		}
		// Names in the machine file can be as long as their owner likes.
		if n := wordsIn(s); n > longest && !strings.Contains(s, "and more and more") {
			t.Errorf("%d words: %q", n, s)
		}
	}
}

// Sound checks that a text has none of the slips.
func Sound(t *testing.T, text string) {
	t.Helper()
	for name, slip := range slips {
		if at := slip.FindStringIndex(text); at != nil {
			t.Errorf("%s: %q", name, text[max(0, at[0]-60):min(len(text), at[1]+60)])
		}
	}
}

// Pictures returns the words that stand in each picture of a page or an SVG file, in one
// line. Each must carry the caution, be sound, and have all its words in their place.
func Pictures(t *testing.T, page []byte) []string {
	t.Helper()
	texts, faults := read(t, page)
	for _, fault := range faults {
		t.Error(fault)
	}
	for _, text := range texts {
		if !strings.HasPrefix(text, "CAUTION: ") || !strings.Contains(text, "main blades") || !strings.Contains(text, "motor leads apart") && !strings.Contains(text, "Stop the engine") {
			t.Errorf("a picture does not begin with the caution: %s", text)
		}
		Sound(t, text)
	}
	return texts
}

// read returns the words of each picture, and what is wrong with where they stand.
func read(t *testing.T, page []byte) (texts, faults []string) {
	t.Helper()
	var at *layout // of the picture that is open
	inText := false
	for decoder := xml.NewDecoder(bytes.NewReader(page)); ; {
		token, err := decoder.Token()
		if errors.Is(err, io.EOF) {
			return texts, faults
		}
		if err != nil {
			t.Fatalf("not well-formed: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			if token.Name.Local == "svg" {
				at = &layout{}
			}
			if at != nil {
				at.open(token)
			}
			inText = at != nil && token.Name.Local == "text"
		case xml.EndElement:
			if at != nil {
				at.close()
			}
			if token.Name.Local == "svg" {
				var words []string
				for _, b := range at.texts {
					words = append(words, strings.Fields(b.text)...)
				}
				texts, faults = append(texts, strings.Join(words, " ")), append(faults, at.check()...)
				at = nil
			}
			inText = false
		case xml.CharData:
			if inText {
				at.texts[len(at.texts)-1].text += string(token)
			}
		}
	}
}

// SuitsTheDrive checks that what the command prints and writes, such as a picture, speaks
// of an electric machine and of an engine machine in the words of each. Args are those for
// the machine in a file, and for what is written to another.
func (run Main) SuitsTheDrive(t *testing.T, args func(machine, written string) []string) {
	t.Helper()
	for machine, words := range map[string]struct{ has, never *regexp.Regexp }{
		"direct": {regexp.MustCompile(`motor leads apart`), regexp.MustCompile(`(?i)\bglow\b|tank line|engine`)},
		"flybar": {regexp.MustCompile(`(?s)Stop the engine.*tank line.*glow and spark current`), regexp.MustCompile(`(?i)\bmotor\b|\bbattery\b`)},
	} {
		written := filepath.Join(t.TempDir(), "written")
		texts := []string{run.Words(t, args("../demo/testdata/"+machine+".json", written)...)}
		if data, err := os.ReadFile(written); err == nil {
			texts = append(texts, strings.Join(strings.Fields(string(data)), " "))
		}
		for _, text := range texts {
			if found := words.never.FindString(text); text != "" && (found != "" || !words.has.MatchString(text)) {
				t.Errorf("%s: %q, or no caution of its own, in\n%s", machine, found, text)
			}
		}
	}
}
