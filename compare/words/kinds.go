package words

import "foreply/compare/fact"

// The kinds that facts have stand in JSON by names that never change; how each is said
// stands here.

// Class says a time class; of an unknown one nothing.
func Class(name string) string {
	switch name {
	case "slow":
		return "slow"
	case classical:
		return "classical"
	case "rapid":
		return "rapid"
	case "blitz":
		return "blitz"
	case "bullet":
		return "bullet"
	}
	return ""
}

// Lead is the word that a task begins with.
func Lead(lead string) string {
	switch lead {
	case fact.LeadExpect:
		return Expected
	case fact.LeadOr:
		return Otherwise
	case fact.LeadPlay:
		return ToPlay
	case fact.LeadChanged:
		return Changed
	case fact.LeadAnswer:
		return "gap"
	case fact.LeadGoOn:
		return "go on"
	case fact.LeadTrap:
		return "trap"
	case fact.LeadLook:
		return "look"
	case fact.LeadOrder:
		return "order"
	case fact.LeadChoose:
		return "choose"
	}
	return "again"
}

// leftOut says why games enter no tree; a reason that the command gives in words of its
// own is said as it is.
func leftOut(reason string) string {
	switch reason {
	case "variant":
		return "variant"
	case "set-up position":
		return "set-up position"
	case "against an engine":
		return "against an engine"
	case "forfeit":
		return "forfeit"
	case "no moves":
		return "no moves"
	case "correspondence":
		return "correspondence"
	case "simultaneous":
		return "simultaneous"
	case "both sides match":
		return "both sides match"
	case "found twice":
		return "found twice"
	case "no legal move":
		return "no legal move"
	case "null moves, a lesson":
		return "null moves, a lesson"
	}
	return reason
}
