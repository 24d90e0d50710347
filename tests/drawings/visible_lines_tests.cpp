#include "drawings/visible_lines.hpp"
#include "scenes.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace scenes;

namespace {

const double kRoot2 = std::sqrt(2.0);
const double kRoot6 = std::sqrt(6.0);

/// Isometric as in ISO 5456-3, 5.2 (from memory): the three axes equally foreshortened.
const ViewFrame kIsometric{{1 / kRoot2, 1 / kRoot2, 0}, {-1 / kRoot6, 1 / kRoot6, 2 / kRoot6}};
const ViewFrame kFront{{1, 0, 0}, {0, 0, 1}};

std::vector<Facets> all_facets(const std::vector<Solid>& solids) {
  std::vector<Facets> out;
  for (const Solid& s : solids) out.push_back(facets_of(s));
  return out;
}

std::size_t count(const Drawn& drawn, bool visible) {
  return static_cast<std::size_t>(std::ranges::count(drawn.lines, visible, &DrawnLine::visible));
}

double total(const Drawn& drawn, bool visible) {
  double sum = 0.0;
  for (const DrawnLine& l : drawn.lines) sum += l.visible == visible ? length(l.b - l.a) : 0.0;
  return sum;
}

enum class Answer { seen, covered, too_close };

/// Looks from p, moved sideways by a hair, to the eye through every solid but where p itself lies.
/// The depth that the algorithm compares is that of p on its own edge, so a cover must begin
/// clearly in front.
Answer look(const std::vector<Solid>& solids, Vec3 p, Vec3 sideways, Vec3 to_eye) {
  constexpr double hair = 1e-3;
  constexpr double margin = 0.1;
  bool close = false;
  for (const Solid& solid : solids) {
    const Pierced in = pierced(solid, p + sideways * hair - to_eye * 1e4, to_eye);
    if (in.to < in.from) continue;
    const double front = in.to - 1e4;  // where the ray leaves the solid, beyond p
    if (front > margin) return Answer::covered;
    if (front > 1e-9 && in.to - in.from > 1e-9 && front > -margin) close = true;
  }
  return close ? Answer::too_close : Answer::seen;
}

struct Tally {
  int asked = 0;
  int wrong = 0;
};

/// Samples every span against look(): a line is seen when it is seen on either side.
Tally compare(const std::vector<Solid>& solids, const ViewFrame& view, Random& random) {
  const auto bodies = all_facets(solids);
  const Vec3 to_eye = view.towards_eye();
  Tally tally;
  for (const EdgeSpan& span : visible_spans(bodies, view, true)) {
    const FacetEdge& edge =
        bodies[static_cast<std::size_t>(span.body)].edges[static_cast<std::size_t>(span.edge)];
    const Vec3 along = edge.b - edge.a;
    const Vec3 flat = along - to_eye * dot(along, to_eye);
    const Vec3 sideways = normalized(cross(to_eye, flat));
    const double size = length(flat) * (span.to - span.from);
    if (size < 0.2) continue;
    for (int k = 0; k < 4; ++k) {
      const double inset = 0.05 / length(flat);
      const Vec3 p = edge.a + along * random.between(span.from + inset, span.to - inset);
      const Answer left = look(solids, p, sideways, to_eye);
      const Answer right = look(solids, p, -sideways, to_eye);
      if (left == Answer::too_close || right == Answer::too_close) continue;
      const bool seen = left == Answer::seen || right == Answer::seen;
      ++tally.asked;
      if (seen != span.visible) ++tally.wrong;
    }
  }
  return tally;
}

}  // namespace

TEST_CASE("a box shows nine edges in an isometric view and hides three", "[drawings][visible]") {
  const auto bodies = all_facets({box({0, 0, 0}, {100, 80, 60})});
  const Drawn drawn = visible_lines(bodies, kIsometric, {.hidden = true});
  CHECK(count(drawn, true) == 9);
  CHECK(count(drawn, false) == 3);
}

TEST_CASE("a box seen square on is four lines of its own size", "[drawings][visible]") {
  const Drawn drawn =
      visible_lines(all_facets({box({0, 0, 0}, {100, 80, 60})}), kFront, {.hidden = true});
  CHECK(count(drawn, true) == 4);
  CHECK(count(drawn, false) ==
        0);  // the far edges lie behind the near ones and are not drawn twice
  CHECK(total(drawn, true) == Approx(2 * (100 + 60)));
}

TEST_CASE("a bar behind a board shows only what sticks out", "[drawings][visible]") {
  const auto bodies =
      all_facets({box({0, 0, 0}, {100, 10, 100}), box({-50, 20, 40}, {150, 30, 60})});
  const Drawn drawn = visible_lines(bodies, kFront, {.hidden = true});
  CHECK(total(drawn, true) == Approx(400 + 4 * 50 + 2 * 20));
  CHECK(total(drawn, false) == Approx(2 * 100));
}

TEST_CASE("the joint between two flush boards stays visible", "[drawings][visible]") {
  const auto bodies = all_facets({box({0, 0, 0}, {100, 10, 50}), box({0, 0, 50}, {100, 10, 90})});
  const Drawn drawn = visible_lines(bodies, kFront, {.hidden = true});
  CHECK(total(drawn, true) == Approx(2 * 90 + 3 * 100));
}

TEST_CASE("the chords of a circle become one circle face on and one ellipse from the side",
          "[drawings][visible]") {
  const auto bodies = all_facets({cylinder({10, 20, 0}, 25, 40, 48)});
  const Drawn top = visible_lines(bodies, {{1, 0, 0}, {0, 1, 0}});
  REQUIRE(top.arcs.size() == 1);
  CHECK(top.lines.empty());
  CHECK(top.arcs[0].to - top.arcs[0].from == Approx(2 * std::numbers::pi));
  CHECK(length(top.arcs[0].u) == Approx(25));
  CHECK(length(top.arcs[0].centre - Vec2{10, 20}) == Approx(0).margin(1e-9));

  const Drawn leaning = visible_lines(bodies, kIsometric, {.hidden = true});
  // Upper rim whole, lower rim half seen and half hidden, two outlines.
  CHECK(leaning.arcs.size() == 3);
  CHECK(count(leaning, true) == 2);
  CHECK(length(leaning.arcs[0].u) == Approx(25));
  CHECK(length(leaning.arcs[0].v) ==
        Approx(25 / std::sqrt(3.0)));  // ISO 5456-3 isometric: sin 35 deg 16'

  const Drawn side = visible_lines(bodies, kFront);
  CHECK(side.arcs.empty());
  CHECK(count(side, true) == 4);
  CHECK(total(side, true) == Approx(2 * (50 + 40)));
}

TEST_CASE("a hole in a face shows what lies behind it", "[drawings][visible]") {
  // A board with a window, as two faces with holes; behind it a bar that spans the whole board.
  Facets board = facets_of(box({0, 0, 0}, {100, 10, 100}));
  for (FacetFace& face : board.faces) {
    if (std::abs(face.normal.y) < 0.5) continue;
    const double y = face.normal.y < 0 ? 0 : 10;
    std::vector<Vec3> window{{30, y, 30}, {30, y, 70}, {70, y, 70}, {70, y, 30}};
    if (face.normal.y > 0) std::ranges::reverse(window);
    face.loops.push_back(window);
  }
  const Drawn drawn = visible_lines({board, facets_of(box({0, 20, 45}, {100, 30, 55}))}, kFront);
  CHECK(total(drawn, true) == Approx(400 + 2 * 40));
}

TEST_CASE("every span agrees with rays cast through the solids", "[drawings][visible]") {
  const unsigned seed = GENERATE(1U, 2U, 3U, 4U, 5U, 6U, 7U, 8U);
  CAPTURE(seed);
  Random random(seed);
  std::vector<Solid> solids;
  for (int i = 0; i < 25; ++i) {
    const Vec3 at{random.between(0, 300), random.between(0, 300), random.between(0, 300)};
    if (i % 2 == 0) {
      solids.push_back(box(
          at, at + Vec3{random.between(5, 120), random.between(5, 120), random.between(5, 120)}));
    } else {
      Solid prism =
          cylinder({}, random.between(10, 60), random.between(5, 150), 3 + random.below(7));
      prism.frame = random.frame(at);
      prism.round = 0.0;
      solids.push_back(prism);
    }
  }
  const Frame turned = random.frame({});
  const auto looks = {kFront, kIsometric, ViewFrame{turned.x, turned.y}};
  Tally tally;
  for (const ViewFrame& view : looks) {
    const Tally one = compare(solids, view, random);
    tally.asked += one.asked;
    tally.wrong += one.wrong;
  }
  CAPTURE(tally.asked);
  CHECK(tally.asked > 2000);
  CHECK(tally.wrong == 0);
}

TEST_CASE("what stacked boxes show agrees with rays, touching faces included",
          "[drawings][visible]") {
  // Boxes on a coarse grid touch and align in every way that furniture does.
  const unsigned seed = GENERATE(11U, 12U, 13U, 14U);
  Random random(seed);
  std::vector<Solid> solids;
  bool taken[5][5][5] = {};
  for (int i = 0; i < 60; ++i) {
    const int x = random.below(5), y = random.below(5), z = random.below(5);
    if (taken[x][y][z]) continue;
    taken[x][y][z] = true;
    const Vec3 at{x * 50.0, y * 50.0, z * 50.0};
    solids.push_back(box(at, at + Vec3{50, 50, 50}));
  }
  const Tally square = compare(solids, kFront, random);
  const Tally tilted = compare(solids, kIsometric, random);
  CHECK(square.asked + tilted.asked > 1000);
  CHECK(square.wrong == 0);
  CHECK(tilted.wrong == 0);
}

TEST_CASE("short lines are dropped only after chords are arcs", "[drawings][visible]") {
  const auto bodies = all_facets({cylinder({0, 0, 0}, 25, 40, 96)});  // chords of 1.6 mm
  const Drawn drawn = visible_lines(bodies, {{1, 0, 0}, {0, 1, 0}}, {.shortest = 5.0});
  REQUIRE(drawn.arcs.size() == 1);
  CHECK(visible_lines(bodies, {{1, 0, 0}, {0, 1, 0}}, {.shortest = 200.0}).arcs.empty());
}
