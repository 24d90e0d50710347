#pragma once

#include "changes/changes.hpp"

/// What the notice says, for the screen and for paper.
namespace ribbay::detail {

/// A heading with the parts that stand under it.
struct NoticeSection {
  std::string heading;
  std::vector<const PartChange*> parts;
};

/// Those that have parts, what is to be made first.
std::vector<NoticeSection> notice_sections(const ChangeNotice& notice);

/// "rack/rail.front (M3, before M2): Rail, 640, slotted_40".
std::string head_words(const PartChange& change);

/// Where its piece comes from or goes to, what is to be done to it, and what is not as before.
std::vector<std::string> part_lines(const PartChange& change);

/// "12 kept, 2 to drill or cut once more, ...".
std::string counts_words(const ChangeNotice& notice);
/// In which unit lengths are, and from where places on a part are counted.
std::string places_words(const ChangeNotice& notice);
/// "slotted_40: 3 pieces, 2.4 m".
std::string need_words(const StockNeed& need);
/// "bolt_m8: 4 -> 6 (+2)  Bolt M8".
std::string bought_words(const BoughtChange& item);
/// "take down", "new" or "replace".
std::string drawing_words(const DrawingChange& drawing);
inline constexpr const char* kNeedsHeading =
    "new material (finished sizes; saw cuts and waste: see the new cutting plan)";

/// changes.html.
std::string notice_page(const ChangeNotice& notice);

}  // namespace ribbay::detail
