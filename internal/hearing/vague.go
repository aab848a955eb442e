package hearing

// Vague reports whether a text means no guide, and no command for sure. While a
// dialog is open its question is likelier meant.
func Vague(d Decision) bool {
	const sure = 0.7
	best := d.Readings[0]
	return best.Kind != Guide && (d.Act != Do || best.Sure < sure)
}
