#pragma once

#include "changes/parts_record.hpp"

#include <optional>

namespace ribbay::detail {

/// How a new piece is made from an old one.
struct Reuse {
  PartRecord old;       ///< the old piece as it lies, in the coordinates of the new one
  bool sawn = false;    ///< something of its outline or length is taken off
  bool turned = false;  ///< the new piece lies in it turned or on its other side
  Vec3 at;  ///< lowest corner (of a member: start) of the new piece on the old one as it lies, mm
};

/// Whether, and how, `fresh` can be made from the piece `old`.
///
/// The rule. Both are of one kind and stock, as thick, and of one section. The new piece is laid on
/// the old one so that its grain runs as the old grain; it may be turned by quarters and, a panel,
/// laid on its other side, a member turned about its axis and end for end where its section maps to
/// itself; a plank keeps its face. There it lies wholly in what is left of the old piece: each old
/// hole, cut and opening is the new piece's own (a hole as wide, tapped alike and no deeper), lies
/// where the new piece has none of its material, or lies in what is sawn off. Of the finishes of
/// the old piece, those on face and back are the new piece's own on the same side; an edge band is
/// the new one's own or is sawn off; what is wrapped stays as large as it is. Bent pieces are only
/// drilled and cut once more, as they are.
///
/// Places that are tried: edges against edges, edges against the edges of old holes and cuts, old
/// holes on new ones; 400 of them at most. Of those where it serves, the one that leaves the fewest
/// holes and cuts to be made, unturned and from the lowest corner before others.
std::optional<Reuse> reuse(const PartRecord& old, const PartRecord& fresh,
                           const SectionRecord* section);

}  // namespace ribbay::detail
