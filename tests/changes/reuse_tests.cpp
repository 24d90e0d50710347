#include "parts.hpp"

#include <random>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

PartRecord with_grain(PartRecord part) {
  part.grain = true;
  return part;
}

PartRecord with_opening(PartRecord part, Vec2 lo, Vec2 hi) {
  part.outline.holes.push_back(reversed(rectangle(lo, hi)));
  return part;
}

PartRecord with_dado(PartRecord part, double at, double deep = 6.0) {
  part.cuts.push_back(
      {rectangle({at, -1}, {at + 12, part.width + 1}), 12.0 - deep, 13.0, CutRole::dado});
  return part;
}

PartRecord painted(PartRecord part, std::string finish, bool face, bool back) {
  part.finishes.push_back({std::move(finish), face, back, {}, 0.1, 0.0});
  return part;
}

PartRecord banded(PartRecord part, Vec2 middle) {
  part.finishes.push_back({"birch_band", false, false, {middle}, 0.5, 0.0});
  return part;
}

PartRecord folded(PartRecord part) {
  part.kind = PartKind::folded;
  part.bends.push_back({{20, 0}, {20, part.width}, 1.570796, 2.0});
  return part;
}

PartRecord of_thickness(PartRecord part, double thickness) {
  part.thickness = part.height = thickness;
  return part;
}

}  // namespace

TEST_CASE("an old piece serves when the new one lies inside it with all its holes accounted for",
          "[changes][reuse]") {
  struct Row {
    std::string name;
    PartRecord old;
    PartRecord fresh;
    Fate fate;
    std::vector<std::string> work;  ///< what each step begins with
  };
  const PartRecord side = panel(600, 300);
  const auto row = GENERATE_COPY(values<Row>({
      {"shorter", side, panel(500, 300), Fate::recut, {"saw to 500 x 300 x 12"}},
      {"longer", side, panel(601, 300), Fate::make, {}},
      {"shorter, its hole where it was",
       with(side, {hole(100, 50)}),
       with(panel(500, 300), {hole(100, 50)}),
       Fate::recut,
       {"saw to 500 x 300 x 12"}},
      {"shorter at the near end, the hole 100 nearer to it",
       with(side, {hole(300, 50)}),
       with(panel(500, 300), {hole(200, 50)}),
       Fate::recut,
       {"saw to 500 x 300 x 12, its corner at 100, 0 of the old part"}},
      {"an old hole in the middle", with(side, {hole(300, 150)}), panel(500, 290), Fate::make, {}},
      // 600 - 302.5 = 297.5 are left beyond the hole.
      {"small enough to lie beside the old hole",
       with(side, {hole(300, 150)}),
       panel(297.4, 300),
       Fate::recut,
       {"saw to 297.4 x 300 x 12"}},
      {"just too long to lie beside it",
       with(side, {hole(300, 150)}),
       panel(297.6, 300),
       Fate::make,
       {}},
      {"one more hole",
       with(side, {hole(100, 50)}),
       with(side, {hole(100, 50), hole(500, 50)}),
       Fate::drill,
       {"drill screw hole, diameter 5, through at 500, 50"}},
      {"a hole moved by 1 mm",
       with(side, {hole(100, 50)}),
       with(side, {hole(101, 50)}),
       Fate::make,
       {}},
      {"a hole made wider",
       with(side, {hole(100, 50)}),
       with(side, {hole(100, 50, 8)}),
       Fate::drill,
       {"drill screw hole, diameter 8"}},
      {"a hole made narrower",
       with(side, {hole(100, 50, 8)}),
       with(side, {hole(100, 50)}),
       Fate::make,
       {}},
      {"drilled deeper",
       with(side, {blind_hole(100, 50, 4)}),
       with(side, {blind_hole(100, 50, 8)}),
       Fate::drill,
       {"drill deeper: pilot hole"}},
      {"drilled less deep",
       with(side, {blind_hole(100, 50, 8)}),
       with(side, {blind_hole(100, 50, 4)}),
       Fate::make,
       {}},
      {"tapped otherwise",
       with(side, {blind_hole(100, 50, 8, "M6")}),
       with(side, {blind_hole(100, 50, 8, "M5")}),
       Fate::make,
       {}},
      {"the old hole falls into a new opening",
       with(side, {hole(100, 50)}),
       with_opening(side, {50, 30}, {150, 70}),
       Fate::drill,
       {"cut 100 x 40 opening at 50, 30"}},
      {"the new opening only touches the old hole",
       with(side, {hole(100, 50)}),
       with_opening(side, {100, 30}, {150, 70}),
       Fate::make,
       {}},
      {"a dado made wider by a second one",
       with_dado(side, 200),
       with_dado(with_dado(side, 200), 210),
       Fate::drill,
       {"cut 12 x 302 dado"}},
      {"a dado cut less deep", with_dado(side, 200, 6), with_dado(side, 200, 4), Fate::make, {}},
      {"a dado cut through",
       with_dado(side, 200, 6),
       with_dado(side, 200, 12),
       Fate::drill,
       {"cut 12 x 302 dado"}},
      {"turned by a quarter",
       panel(600, 300),
       panel(280, 590),
       Fate::recut,
       {"saw to 280 x 590 x 12, the old part turned"}},
      {"its grain forbids that turn",
       with_grain(panel(600, 300)),
       with_grain(panel(280, 590)),
       Fate::make,
       {}},
      {"half a turn is no harm to grain",
       with(with_grain(side), {hole(50, 50)}),
       with(with_grain(side), {hole(550, 250)}),
       Fate::drill,
       {"turn it"}},
      {"laid on its other side",
       with(side, {blind_hole(50, 50, 6)}),
       with(side, {Bore{{50, 250, 0}, {0, 0, 1}, 5, 6, false, "", BoreRole::pilot}}),
       Fate::drill,
       {"turn it"}},
      {"of another thickness", side, of_thickness(side, 15), Fate::make, {}},
      {"painted, and to be painted so",
       painted(side, "paint", true, false),
       painted(panel(500, 300), "paint", true, false),
       Fate::recut,
       {"saw to"}},
      {"painted, and to be bare",
       painted(side, "paint", true, false),
       panel(500, 300),
       Fate::make,
       {}},
      {"bare, and to be painted",
       side,
       painted(side, "paint", true, true),
       Fate::drill,
       {"finish: paint on face, back"}},
      {"painted on one side, wanted on the other",
       painted(side, "paint", true, false),
       painted(panel(500, 300), "paint", false, true),
       Fate::recut,
       {"saw to 500 x 300 x 12, the old part turned"}},
      {"a banded edge that is sawn off",
       banded(side, {600, 150}),
       panel(500, 300),
       Fate::recut,
       {"saw to"}},
      {"a banded edge that would stay", banded(side, {300, 0}), panel(500, 300), Fate::make, {}},
      {"bent, one more hole",
       folded(side),
       with(folded(side), {hole(100, 50)}),
       Fate::drill,
       {"drill"}},
      {"bent, shorter", folded(side), folded(panel(500, 300)), Fate::make, {}},
      {"a bar shorter", member(800), member(700), Fate::recut, {"saw to 700"}},
      {"a bar, its holes at the far end kept",
       with(member(800), {cross_hole(750)}),
       with(member(700), {cross_hole(650)}),
       Fate::recut,
       {"saw to 700, beginning 100 from its start"}},
      {"a bar, a hole in its middle",
       with(member(800), {cross_hole(400)}),
       member(700),
       Fate::make,
       {}},
      {"a square tube is turned end for end",
       with(member(800), {cross_hole(50)}),
       with(member(800), {cross_hole(750)}),
       Fate::drill,
       {"turn it"}},
      {"a square tube is turned about itself",
       with(member(800), {cross_hole(50)}),
       with(member(800), {Bore{{0, 20, 50}, {0, -1, 0}, 9, 40, true, "", BoreRole::bolt}}),
       Fate::drill,
       {"turn it"}},
      {"an angle is not turned end for end alone",
       with(member(800, "angle_40"), {cross_hole(50)}),
       with(member(800, "angle_40"), {cross_hole(750)}),
       Fate::make,
       {}},
      {"of another bar", member(800), member(700, "angle_40"), Fate::make, {}},
  }));
  CAPTURE(row.name);
  const ChangeNotice notice = compare_builds(build({row.old}), build({row.fresh}));
  REQUIRE(notice.parts.size() == 1);
  const PartChange& change = notice.parts.front();
  CAPTURE(changes_text(notice));
  CHECK(change.fate == row.fate);
  CHECK(change.differences.size() >= 1);
  REQUIRE(change.work.size() >= row.work.size());
  for (std::size_t w = 0; w < row.work.size(); ++w)
    CHECK_THAT(change.work[w], Catch::StartsWith(row.work[w]));
  CHECK(notice.stock.size() == (row.fate == Fate::make ? 1 : 0));
}

// The oracle lays the new rectangle on every cell of the old one, in both directions, and looks at
// each cell under it: slow, and no code in common with what it checks.
TEST_CASE("a plain rectangle comes out of an old one exactly when it lies beside its openings",
          "[changes][reuse]") {
  constexpr int kCell = 10;
  std::mt19937 random(20261126);
  const auto number = [&](int from, int to) {
    return std::uniform_int_distribution<int>(from, to)(random);
  };
  int served = 0;
  for (int round = 0; round < 400; ++round) {
    const int across = number(4, 14);
    const int up = number(4, 14);
    std::vector<std::vector<bool>> gone(across, std::vector<bool>(up, false));
    PartRecord old = panel(across * kCell, up * kCell);
    for (int opening = number(0, 4); opening > 0; --opening) {
      const int x = number(1, across - 2);
      const int y = number(1, up - 2);
      gone[x][y] = true;
      // A cut: openings of an outline must not touch each other.
      old.cuts.push_back({rectangle({x * 10.0, y * 10.0}, {x * 10.0 + 10, y * 10.0 + 10}), -1, 13,
                          CutRole::cut_out});
    }
    const int w = number(1, across);
    const int h = number(1, up);
    if (w == across && h == up) continue;
    const PartRecord fresh = panel(w * kCell, h * kCell);
    const auto fits_at = [&](int x, int y, int wide, int high) {
      for (int i = x; i < x + wide; ++i) {
        for (int j = y; j < y + high; ++j) {
          if (gone[i][j]) return false;
        }
      }
      return true;
    };
    bool fits = false;
    for (const auto& [wide, high] : {std::pair(w, h), std::pair(h, w)}) {
      for (int x = 0; x + wide <= across; ++x) {
        for (int y = 0; y + high <= up; ++y) fits = fits || fits_at(x, y, wide, high);
      }
    }
    const ChangeNotice notice = compare_builds(build({old}), build({fresh}));
    CAPTURE(round, across, up, w, h, old.cuts.size());
    REQUIRE(notice.parts.size() == 1);
    CHECK((notice.parts.front().fate == Fate::recut) == fits);
    served += fits ? 1 : 0;
  }
  CHECK(served > 50);
  CHECK(served < 350);
}

TEST_CASE("as many new parts as possible come out of old ones, each of its own",
          "[changes][reuse]") {
  // Old a serves for both, old b for the small one only: the small one leaves a to the other.
  const ChangeNotice notice =
      compare_builds(build({panel(600, 300, "old/a"), panel(400, 300, "old/b")}),
                     build({panel(350, 290, "new/a"), panel(550, 290, "new/b")}));
  CAPTURE(changes_text(notice));
  REQUIRE(change_of(notice, "new/a") != nullptr);
  CHECK(change_of(notice, "new/a")->from == "old/b");
  CHECK(change_of(notice, "new/b")->from == "old/a");
  CHECK(change_of(notice, "old/a")->used_for == "new/b");
  CHECK(notice.stock.empty());
  // Three from two: one is new material, and nothing is used twice.
  const ChangeNotice three = compare_builds(
      build({panel(600, 300, "old/a"), panel(400, 300, "old/b")}),
      build({panel(350, 290, "new/a"), panel(350, 290, "new/b"), panel(350, 290, "new/c")}));
  CHECK(std::ranges::count(three.parts, Fate::recut, &PartChange::fate) == 2);
  CHECK(std::ranges::count(three.parts, Fate::make, &PartChange::fate) == 1);
  REQUIRE(three.stock.size() == 1);
  CHECK(three.stock.front().area == Approx(350.0 * 290.0));
}

TEST_CASE("a part's own old piece goes before others, and pieces that are alike before both",
          "[changes][reuse]") {
  const ChangeNotice own =
      compare_builds(build({panel(600, 300, "box/a"), panel(600, 300, "box/z")}),
                     build({panel(500, 300, "box/z")}));
  CHECK(change_of(own, "box/z")->from == "box/z");
  CHECK(change_of(own, "box/a")->fate == Fate::gone);
  CHECK(change_of(own, "box/a")->used_for.empty());
  const ChangeNotice swapped =
      compare_builds(build({panel(600, 300, "box/a"), panel(500, 300, "box/b")}),
                     build({panel(500, 300, "box/a"), panel(600, 300, "box/b")}));
  CHECK(change_of(swapped, "box/a")->fate == Fate::as_other);
  CHECK(change_of(swapped, "box/a")->from == "box/b");
  CHECK(change_of(swapped, "box/b")->from == "box/a");
  CHECK(change_of(swapped, "box/a")->differences.front().what == "length");
}
