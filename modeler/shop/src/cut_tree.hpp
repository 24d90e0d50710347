#pragma once

#include "sheet_numbers.hpp"

#include <cstdint>
#include <optional>
#include <vector>

namespace ribbay::detail {

/// A rectangle of a sheet, each larger by one saw cut than the wood. Free, a piece, or cut in two.
struct CutNode {
  enum class State { free, piece, cut };
  std::int64_t x = 0;
  std::int64_t y = 0;
  std::int64_t length = 0;
  std::int64_t width = 0;
  State state = State::free;
  int stage = 0;             ///< of the cut that made it
  bool made_by_rip = false;  ///< direction of that cut; means nothing at stage 0
  bool rip = false;          ///< when cut: its direction
  std::size_t first = 0;     ///< when cut
  std::size_t rest = 0;
  std::size_t item = 0;  ///< when a piece
  bool turned = false;
};

/// A free node with its size, for a search that looks at nothing else.
struct FreeRoom {
  std::size_t node = 0;
  std::int64_t length = 0;
  std::int64_t width = 0;
};

/// One sheet as it is cut up, node 0 the trimmed sheet.
class CutTree {
 public:
  CutTree(std::size_t kind, const SheetKind& size);

  std::size_t kind() const { return kind_; }
  const std::vector<CutNode>& nodes() const { return nodes_; }
  const std::vector<FreeRoom>& free() const { return free_; }  ///< rising by node
  std::int64_t used_area() const { return used_area_; }

  /// Stage of the last cut that takes a corner of this size out of a free node, `rip_first` first.
  static int last_stage(const CutNode& node, std::int64_t length, std::int64_t width,
                        bool rip_first);

  /// Cuts the piece out of the lower left corner of a free node in which it fits.
  void put(std::size_t node, std::size_t item, bool turned, std::int64_t length, std::int64_t width,
           bool rip_first);

 private:
  std::size_t cut(std::size_t node, bool rip, std::int64_t at);

  std::size_t kind_ = 0;
  std::vector<CutNode> nodes_;
  std::vector<FreeRoom> free_;
  std::int64_t used_area_ = 0;
};

}  // namespace ribbay::detail
