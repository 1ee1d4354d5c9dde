package show

import (
	"encoding/json"
	"io"
)

// JSON writes v for people to read as well.
func JSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
