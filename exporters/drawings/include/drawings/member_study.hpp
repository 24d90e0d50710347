#pragma once

#include "drawings/holes.hpp"
#include "drawings/visible_lines.hpp"

#include <string>
#include <vector>

/// A member as its drawing and its bench page see it: end 1 to the left, its holes by face.
namespace ribbay {

/// A hole of a member as its face views see it; one right through that has a mouth is drilled from
/// there.
struct MemberHole : Drilling {  ///< its bores in shape coordinates
  std::size_t face = 0;
  double along = 0.0;   ///< from end 1
  double across = 0.0;  ///< from the lower edge of its face view
  std::string id;
};

/// A side of the member that has holes, seen square on with end 1 to the left.
struct MemberFace {
  Vec3 normal;
  ViewFrame view;
  double low = 0.0;  ///< picture coordinate of the lower edge
  double high = 0.0;
  std::string letter;
};

struct MemberStudy {
  Box box;
  std::vector<MemberFace> faces;  ///< the one with most holes first
  std::vector<MemberHole> holes;
  std::vector<Drilling> end_holes;
  double length = 0.0;
};

/// The faces with holes, the one with most first; one face of those without. Holes by face, then
/// along the member.
MemberStudy study_member(const Part& part);

/// How an end is looked at: face A upright, as in its own view; end 1 is seen with A to the right,
/// end 2 with A to the left.
ViewFrame end_frame(const MemberStudy& member, bool end_1);
/// What is seen there, as fine as `scale` shows it, mm in the frame.
Drawn end_lines(const Part& part, const ViewFrame& end, double scale);

}  // namespace ribbay
