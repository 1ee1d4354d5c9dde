package showtest

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"example.org/levelhead/examples/internal/results"
	"example.org/levelhead/units/plain"
)

// JSON runs the command with -json, and returns what it prints: a result of some kind, in which
// every key is one of its type's, and nothing stands beside what keeps a machine from getting
// somewhere.
func (run Main) JSON(t *testing.T, kind string, args ...string) map[string]any {
	t.Helper()
	var out, errs bytes.Buffer
	args = append(slices.Clone(args), "-json")
	if status := run(args, &out, &errs); status != 0 || errs.Len() > 0 {
		t.Fatalf("%q: status %d: %s", args, status, &errs)
	}
	return CheckJSON(t, kind, out.Bytes())
}

// CheckJSON is JSON of what was printed.
func CheckJSON(t *testing.T, kind string, data []byte) map[string]any {
	t.Helper()
	var result map[string]any
	if err := json.Unmarshal(data, &result); err != nil {
		t.Fatalf("%v in\n%s", err, data)
	}
	if result["format"] != float64(plain.Format) || result["what"] != kind {
		t.Errorf("format %v, what %v; want %d and %s", result["format"], result["what"], plain.Format, kind)
	}
	entries, err := plain.Outline(reflect.TypeOf(results.Kinds[kind]))
	if err != nil {
		t.Fatal(err)
	}
	k := keys{shapes: map[string]string{"format": "number", "what": "word"}, t: t}
	for _, e := range entries {
		k.shapes[e.Path] = e.Shape
	}
	k.check(result, "")
	return result
}

// keys are those that a result can have, with what stands there.
type keys struct {
	shapes map[string]string
	t      *testing.T
}

func (k *keys) check(v any, path string) {
	k.t.Helper()
	switch v := v.(type) {
	case []any:
		for _, item := range v {
			k.check(item, path+"[]")
		}
	case map[string]any:
		_, isError := v["text"]
		_, cannot := v["unreachable"]
		_, neither := v["out_of_reach"]
		for key, item := range v {
			at := strings.TrimPrefix(path+"."+key, ".")
			if cannot || neither {
				for _, never := range []string{"gauge_deg", "pulses_us", "arms_deg", "height_mm", "tilt_deg"} {
					if key == never {
						k.t.Errorf("%s is there, and the machine cannot get there", at)
					}
				}
			}
			shape, known := k.shapes[at]
			switch stem, _, _ := strings.Cut(key, "_"); {
			case known:
				k.check(item, at)
			case isError: // its fields are those of its type
			case k.shapes[strings.TrimSuffix(at, key)+stem] == "any", k.shapes[strings.TrimPrefix(path+"."+key[:max(strings.LastIndex(key, "_"), 0)], ".")] == "any":
			case k.shapes[path] == "object" && k.of(path+"{}"):
				k.check(item, path+"{}")
			case strings.HasSuffix(path, "unmet_modes"): // by the modes' names
			default:
				k.t.Errorf("%s (%v) is no key of the result", at, shape)
			}
		}
	}
}

// of reports whether there are keys within a path.
func (k *keys) of(path string) bool {
	for at := range k.shapes {
		if strings.HasPrefix(at, path) {
			return true
		}
	}
	return false
}

// JSONOfEach is JSON of the invented machine, and of each machine of a list by a flag.
func (run Main) JSONOfEach(t *testing.T, kind, flag string, machines []string, args ...string) {
	t.Helper()
	run.JSON(t, kind)
	for _, name := range machines {
		run.JSON(t, kind, append([]string{flag, "../demo/testdata/" + name + ".json"}, args...)...)
	}
}
