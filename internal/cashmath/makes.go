package cashmath

// Makes reports whether notes of these values, highest first, can make an
// amount. As many notes of one kind as make up a whole number of the lowest kind
// can be swapped for those, so fewer are tried of it than the lowest is worth.
func Makes(amount int64, faces []int64) bool {
	switch len(faces) {
	case 0:
		return amount == 0
	case 1:
		return amount >= 0 && amount%faces[0] == 0
	}
	low := faces[len(faces)-1]
	for n := int64(0); n*faces[0] <= amount; n++ {
		if n > 0 && n*faces[0]%low == 0 {
			return false
		}
		if Makes(amount-n*faces[0], faces[1:]) {
			return true
		}
	}
	return false
}
