package machine

import (
	"fmt"

	"example.org/levelhead/units"
)

// LimitText says a limit in words: "our limit 0.3°; the maker's manual decides" where it
// is the one of DefaultLimits, which is ours, and "limit 0.5°" where it is another, which
// somebody has chosen for the machine.
func LimitText[Q units.Quantity](limit, ours Q) string {
	text := fmt.Sprintf("limit %v", units.Round(limit, 3))
	if limit == ours {
		return "our " + text + "; the maker's manual decides"
	}
	return text
}
