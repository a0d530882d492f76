package model

// Loads that one person should lift at most, under the best conditions.
const (
	// nioshLoad is the load constant of the revised NIOSH lifting equation, kg
	// (Waters, Putz-Anderson and Garg, DHHS (NIOSH) Publication 94-110).
	nioshLoad = 23.0
	// isoMass is the reference mass of ISO 11228-1 for adult working men, kg;
	// 15 to 20 kg for others (from memory of the standard).
	isoMass = 25.0
)
