package shop

import "slices"

// WithRestart are settings in which a machine takes so many minutes to start again.
func (s Settings) WithRestart(id MachineID, minutes int) Settings {
	s.Machines = slices.Clone(s.Machines)
	for i := range s.Machines {
		if s.Machines[i].ID == id {
			s.Machines[i].RestartMinutes = minutes
		}
	}
	return s
}

// WithAdvice are settings with what the provider says about a topic; no text: nothing.
func (s Settings) WithAdvice(a Advice) Settings {
	s.Advice = slices.DeleteFunc(slices.Clone(s.Advice), func(x Advice) bool { return x.Topic == a.Topic })
	if a.Text != "" {
		s.Advice = append(s.Advice, a)
	}
	return s
}

// WithNumber are settings with somebody's telephone number; an empty one goes.
func (s Settings) WithNumber(n Number) Settings {
	s.Numbers = slices.DeleteFunc(slices.Clone(s.Numbers), func(x Number) bool { return x.Who == n.Who })
	if n.Number != "" {
		s.Numbers = append(s.Numbers, n)
	}
	return s
}

// WithMachine are settings with one machine changed; one of number 0 is new.
func (s Settings) WithMachine(m Machine) Settings {
	s.Machines = slices.Clone(s.Machines)
	i := slices.IndexFunc(s.Machines, func(x Machine) bool { return x.ID == m.ID && m.ID != 0 })
	if i < 0 {
		s.Machines = append(s.Machines, m)
	} else {
		s.Machines[i] = m
	}
	return s
}

// WithPerson are settings with one person changed.
func (s Settings) WithPerson(p Person) Settings {
	s.People = slices.Clone(s.People)
	for i := range s.People {
		if s.People[i].ID == p.ID {
			s.People[i] = p
		}
	}
	return s
}
