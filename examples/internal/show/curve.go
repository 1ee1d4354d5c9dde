package show

// Joined says how a kind of curve joins its points.
func Joined(kind string) string {
	switch kind {
	case "polyline":
		return "straight lines"
	case "monotone":
		return "smooth, without overshoot"
	}
	return "smooth, " + kind
}
