#include "base/messages.hpp"

namespace ribbay {

const std::vector<Message>& english_messages() {
  // Sorted by code (a test looks). Write what is wrong with both numbers, then in the advice how to mend it.
  static const std::vector<Message> table = {
      {"clearance.clash", "{0} cuts {measured} deep into {1} ({volume} in common)",
       "move {0} by {measured} {way}, or make one of the two smaller"},
      {"clearance.gap", "only {measured} between {0} and {1}; gap {gap} asks for {required}",
       "open it by another {missing}"},
      {"clearance.motion", "{title} opens {measured}, then {0} meets {1}; it must open {required}",
       "widen {parameter} by {shift}, to {value}"},
      {"clearance.outside",
       "{0} leaves the surveyed room, which runs from {from} to {to} ahead of the origin, at x {x}, y {y}, z {z}",
       "move it inside; if the van does reach that far, measure one more station there"},
      {"clearance.tight", "only {measured} between {0} and {1}; less than {required} is tight",
       "open the gap to {required} or let the two touch; or ask for a smaller gap between them by name"},
      {"clearance.undecided", "it cannot be told whether {0} and {1} overlap by up to {measured}: round faces",
       "move them apart by {measured}"},
      {"clearance.zone", "{0} stands {measured} deep in \"{title}\", which {1} needs free",
       "move {0} by {measured} {way}"},
      {"output.leftover", "the new output is in place, but the old one at {0} could not be removed: {why}",
       "delete that folder by hand"},
      {"output.not_durable", "the new output is in place, but the disk did not confirm it at {0}: {why}",
       "check the disk, then build again"},
      {"output.not_kept", "{0} is a file of your own in the output folder and could not be moved along: {why}",
       "move it elsewhere and build again; the last output is unchanged"},
      {"output.not_ours", "{0} is not an output folder of this program ({why}), so it is not replaced",
       "move it away, or choose another folder with --out"},
      {"output.not_read", "{0} is listed in the manifest of the last build, but {why}",
       "build everything once, without --only"},
      {"output.not_written", "cannot write {0}: {why}",
       "make room or choose another folder with --out; the last output is unchanged"},
      {"solid.bad_bore", "{0}: a bore of diameter {diameter} and depth {depth} cannot be drilled",
       "give it a diameter, a depth and a direction"},
      {"solid.bad_section", "{0}: an outline of this part is not sound ({reason})",
       "look at the sizes it is made from: one of them may be negative or larger than the part"},
      {"solid.invalid", "{0}: the part does not make a sound closed body (volume {volume})",
       "move cuts and bores that meet in an edge or a point a little apart"},
      {"solid.kernel", "{0}: the solid modeller gave up: {reason}",
       "look for cuts and bores that just touch each other, and move them a little"},
      {"solid.no_height", "{0}: the part would be {height} long",
       "its length or thickness must be more than 0"},
      {"solid.not_one_body", "{0}: the part falls apart into {bodies} bodies",
       "its cuts sever it, or its pieces do not touch: make the cuts smaller or split the part in two"},
      {"solid.nothing_left", "{0}: nothing is left of the part",
       "its cuts take all of it away: make them smaller or leave the part out"},
      {"solid.open_mesh", "{0}: the surface of the part could not be closed with triangles",
       "look for cuts and bores that just touch each other, and move them a little"},
      {"step.not_written", "{0} could not be written: {reason}",
       "the other outputs are not affected; please report this with the project file"},
  };
  return table;
}

}  // namespace ribbay
