package repl
func (s *Session) cautions() []string { return nil }
