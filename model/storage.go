package model

// A storage of N strands pulls N times its carriage travel of web, so the
// carriage moves at the difference of the speeds into and out of it over N
// (from memory: P. R. Pagilla, L. P. Dreinhoefer and others on accumulator
// dynamics, IEEE Trans. Ind. Appl., 2000 and 2001; elementary all the same). The
// strands are taken as parallel to the travel.

// StrandStorage is the web in m that a carriage travel of m holds in N strands.
func StrandStorage(strands int, travel float64) float64 { return float64(strands) * travel }

// CarriageTravel is the travel in m that so much web asks for: its inverse.
func CarriageTravel(length float64, strands int) float64 { return length / float64(strands) }

// CarriageSpeed is the speed of the carriage in m/s, positive while the storage
// fills, for web that comes in and goes out at so many m/s.
func CarriageSpeed(in, out float64, strands int) float64 { return (in - out) / float64(strands) }

// DragTension is the tension in N by which web leaves the storage tighter than
// it came in, for a roller drag of N an idler and one idler per strand. What the
// bending of the web, its inertia and that of the idlers add is left out.
func DragTension(strands int, drag float64) float64 { return float64(strands) * drag }
