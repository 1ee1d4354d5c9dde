package results

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"example.org/levelhead/units/plain"
)

// document is the list of all keys. What stands in it between the marks is made by this test
// with -update; the meanings are written by hand.
const document = "../../JSON.md"

var update = flag.Bool("update", false, "write the outlines and the list of keys of examples/JSON.md anew")

// entries are the keys of all results, by their kinds.
func entries(t *testing.T) map[string][]plain.Entry {
	t.Helper()
	all := map[string][]plain.Entry{}
	for kind, result := range Kinds {
		of, err := plain.Outline(reflect.TypeOf(result))
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		all[kind] = of
	}
	return all
}

// outline is one result as a list: each key within the object that it stands in.
func outline(entries []plain.Entry) string {
	var b strings.Builder
	for _, e := range entries {
		fmt.Fprintf(&b, "%s%s: %s\n", strings.Repeat("  ", e.Depth), e.Key, e.Shape)
	}
	return b.String()
}

var meaning = regexp.MustCompile("(?m)^\\| `([^`]+)` \\| (.*) \\|$")

// The document lists the keys of all results, each with one meaning, and no others. A key of
// one name is of one shape wherever it stands.
func TestDocument(t *testing.T) {
	data, err := os.ReadFile(document)
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	meanings := map[string]string{}
	for _, row := range meaning.FindAllStringSubmatch(text, -1) {
		if _, twice := meanings[row[1]]; twice {
			t.Errorf("%q has two meanings", row[1])
		}
		meanings[row[1]] = row[2]
	}
	shapes, first := map[string]string{}, map[string]string{}
	all := entries(t)
	var outlines strings.Builder
	for _, kind := range slices.Sorted(maps.Keys(all)) {
		fmt.Fprintf(&outlines, "\n### %s\n\n```\n%s```\n", kind, outline(all[kind]))
		for _, e := range all[kind] {
			where := kind + ": " + e.Path
			if was, known := shapes[e.Key]; known && was != e.Shape {
				t.Errorf("%s is a %s, and in %s a %s", where, e.Shape, first[e.Key], was)
			}
			shapes[e.Key], first[e.Key] = e.Shape, cmp.Or(first[e.Key], where)
		}
	}
	table := "\n| key | meaning |\n|---|---|\n"
	for _, key := range slices.Sorted(maps.Keys(shapes)) {
		if meanings[key] == "" || meanings[key] == "?" {
			t.Errorf("%q has no meaning", key)
			meanings[key] = "?"
		}
		table += fmt.Sprintf("| `%s` | %s |\n", key, meanings[key])
	}
	want := text
	for mark, made := range map[string]string{"outlines": outlines.String() + "\n", "keys": table + "\n"} {
		before, rest, ok := strings.Cut(want, "<!-- "+mark+" -->\n")
		_, after, also := strings.Cut(rest, "<!-- end -->")
		if !ok || !also {
			t.Fatalf("no marks of %s", mark)
		}
		want = before + "<!-- " + mark + " -->\n" + made + "<!-- end -->" + after
	}
	if *update {
		if err := os.WriteFile(document, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := gocmp.Diff(want, text); diff != "" {
		t.Errorf("the document is not that of the types; run this test with -update (-want +got):\n%s", diff)
	}
}
