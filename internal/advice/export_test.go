package advice

// PartsOf is [State.Parts] with another number of days.
func PartsOf(s State, most int) ([]State, State) { return s.parts(most) }
