// Visible lines against rays cast at triangles: the slow and plain way to the same answer.
#include "drawings/visible_lines.hpp"
#include "layout/project.hpp"
#include "scenes.hpp"
#include "triangles.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;
using namespace scenes;

namespace {

/// Triangles of a scene seen from the eye, found by their place in the picture.
class Sight {
 public:
  Sight(const std::vector<triangles::Triangle>& mesh, const ViewFrame& view) : view_(view) {
    lo_ = {1e300, 1e300};
    Vec2 hi{-1e300, -1e300};
    for (const auto& t : mesh) {
      Seen seen;
      for (std::size_t i = 0; i < 3; ++i) {
        seen.at[i] = view.picture(t[i]);
        seen.near[i] = dot(t[i], view.towards_eye());
        lo_ = {std::min(lo_.x, seen.at[i].x), std::min(lo_.y, seen.at[i].y)};
        hi = {std::max(hi.x, seen.at[i].x), std::max(hi.y, seen.at[i].y)};
      }
      // Edge on, it hides nothing.
      if (std::abs(cross(seen.at[1] - seen.at[0], seen.at[2] - seen.at[0])) > 1e-9)
        seen_.push_back(seen);
    }
    step_ = {(hi.x - lo_.x) / kCells + 1e-9, (hi.y - lo_.y) / kCells + 1e-9};
    cells_.resize(std::size_t{kCells} * kCells);
    for (std::size_t i = 0; i < seen_.size(); ++i) {
      Vec2 a = seen_[i].at[0];
      Vec2 b = a;
      for (const Vec2 p : seen_[i].at) {
        a = {std::min(a.x, p.x), std::min(a.y, p.y)};
        b = {std::max(b.x, p.x), std::max(b.y, p.y)};
      }
      for (int y = cell(a.y, lo_.y, step_.y); y <= cell(b.y, lo_.y, step_.y); ++y) {
        for (int x = cell(a.x, lo_.x, step_.x); x <= cell(b.x, lo_.x, step_.x); ++x)
          cells_[static_cast<std::size_t>(y * kCells + x)].push_back(i);
      }
    }
  }

  /// How far the nearest triangle at a point of the picture lies in front of `depth`; far below 0 where
  /// there is none.
  double ahead(Vec2 p, double depth) const {
    double most = -1e300;
    const int x = cell(p.x, lo_.x, step_.x);
    const int y = cell(p.y, lo_.y, step_.y);
    for (const std::size_t i : cells_[static_cast<std::size_t>(y * kCells + x)]) {
      const auto& [at, near] = seen_[i];
      const double whole = cross(at[1] - at[0], at[2] - at[0]);
      const double u = cross(p - at[0], at[2] - at[0]) / whole;
      const double v = cross(at[1] - at[0], p - at[0]) / whole;
      if (u < 0.0 || v < 0.0 || u + v > 1.0) continue;
      most = std::max(most, near[0] + u * (near[1] - near[0]) + v * (near[2] - near[0]) - depth);
    }
    return most;
  }

 private:
  struct Seen {
    std::array<Vec2, 3> at;
    std::array<double, 3> near;
  };
  static constexpr int kCells = 200;
  static int cell(double value, double lo, double step) {
    return std::clamp(static_cast<int>((value - lo) / step), 0, kCells - 1);
  }
  ViewFrame view_;
  std::vector<Seen> seen_;
  std::vector<std::vector<std::size_t>> cells_;
  Vec2 lo_;
  Vec2 step_;
};

enum class Answer { seen, covered, too_close };

/// Looks past the edge at `p`, a hair to one side. The face that begins at the edge may lean to the eye,
/// and then lies ahead by as little as the hair is wide: looking twice, with a hair a tenth as wide,
/// tells it from a cover.
Answer look(const Sight& sight, Vec2 p, Vec2 sideways, double depth) {
  constexpr double cover = 0.1;
  constexpr double touch = 0.01;
  const double ahead = std::min(sight.ahead(p + sideways * 2e-4, depth),
                                sight.ahead(p + sideways * 2e-5, depth));
  return ahead > cover ? Answer::covered : ahead > touch ? Answer::too_close : Answer::seen;
}

struct Tally {
  int asked = 0;
  int wrong = 0;
  int on_arcs = 0;
  int on_outlines = 0;  ///< seams of a curved face that are seen as its outline
  int too_close = 0;
};

void compare(const std::vector<Facets>& bodies, const std::vector<triangles::Triangle>& mesh,
             const ViewFrame& view, int samples, Random& random, Tally& tally) {
  const Sight sight(mesh, view);
  const Vec3 eye = view.towards_eye();
  for (const EdgeSpan& span : visible_spans(bodies, view, true)) {
    const FacetEdge& edge =
        bodies[static_cast<std::size_t>(span.body)].edges[static_cast<std::size_t>(span.edge)];
    const Vec3 along = edge.b - edge.a;
    const Vec2 flat = view.picture(along);
    const double size = length(flat);
    if (size * (span.to - span.from) < 0.2) continue;
    for (int k = 0; k < samples; ++k) {
      const double inset = 0.05 / size;
      const Vec3 p = edge.a + along * random.between(span.from + inset, span.to - inset);
      const Vec2 sideways = perpendicular(flat) * (1.0 / size);
      const double depth = dot(p, eye);
      const Answer left = look(sight, view.picture(p), sideways, depth);
      const Answer right = look(sight, view.picture(p), sideways * -1.0, depth);
      if (left == Answer::too_close || right == Answer::too_close) {
        ++tally.too_close;
        continue;
      }
      const bool seen = left == Answer::seen || right == Answer::seen;
      ++tally.asked;
      tally.on_arcs += edge.curve >= 0 ? 1 : 0;
      tally.on_outlines += edge.smooth ? 1 : 0;
      if (seen == span.visible) continue;
      if (++tally.wrong < 6)
        UNSCOPED_INFO("body " << span.body << " edge " << span.edge << " at " << p.x << ", " << p.y
                              << ", " << p.z << (span.visible ? " drawn" : " left out"));
    }
  }
}

ViewFrame view_from(Vec3 eye) {
  const Vec3 right = normalized(cross({0, 0, 1}, eye));
  return {right, cross(eye, right)};
}

}  // namespace

TEST_CASE("spans of round and flat bodies agree with rays at their triangles", "[drawings][visible]") {
  Tally tally;
  for (const unsigned seed : {21U, 22U, 23U, 24U, 25U, 26U}) {
    Random random(seed);
    std::vector<Facets> bodies;
    for (int i = 0; i < 36; ++i) {
      const Vec3 at{random.between(0, 300), random.between(0, 300), random.between(0, 300)};
      Solid solid = i % 3 == 0
                        ? box({}, {random.between(5, 120), random.between(5, 120),
                                   random.between(5, 120)})
                        : cylinder({}, random.between(8, 60), random.between(5, 150),
                                   12 + 4 * random.below(8));
      // One in three stands square to the axes, as most of a van does.
      solid.frame = i % 3 == 2 ? Frame{at} : random.frame(at);
      bodies.push_back(facets_of(solid));
    }
    const auto mesh = triangles::of(bodies);
    const Frame turned = random.frame({});
    for (const ViewFrame& view : {ViewFrame{{1, 0, 0}, {0, 0, 1}}, view_from(normalized({1, -1, 1})),
                                  ViewFrame{turned.x, turned.y}})
      compare(bodies, mesh, view, 4, random, tally);
  }
  CAPTURE(tally.asked, tally.on_arcs, tally.on_outlines, tally.too_close);
  CHECK(tally.wrong == 0);
  CHECK(tally.asked > 100'000);
  CHECK(tally.on_arcs > 50'000);
  CHECK(tally.on_outlines > 2'000);
  CHECK(tally.too_close * 20 < tally.asked);
}

TEST_CASE("the demo's lines agree with rays at its triangles", "[drawings][visible]") {
  const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml");
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  std::vector<Facets> bodies;
  for (const Part& part : layout.value->parts)
    bodies.push_back(placed(facets(*part.shape, {.chord = 0.3, .coarse = true}), part.frame));
  const auto mesh = triangles::of(bodies);
  Random random(31);
  Tally tally;
  for (const ViewFrame& view : {ViewFrame{{1, 0, 0}, {0, 0, 1}}, ViewFrame{{1, 0, 0}, {0, 1, 0}},
                                view_from(normalized({-1, 1, 1})),
                                view_from(normalized({0.83, 0.31, 0.44}))})
    compare(bodies, mesh, view, 2, random, tally);
  CAPTURE(bodies.size(), mesh.size(), tally.asked, tally.on_arcs, tally.on_outlines,
          tally.too_close);
  CHECK(tally.wrong == 0);
  CHECK(bodies.size() > 500);
  CHECK(tally.asked > 100'000);
  CHECK(tally.too_close * 20 < tally.asked);
}

TEST_CASE("the rays see a span that is wrong", "[drawings][visible]") {
  // A board in front of a bar: what is cast at the board's triangles alone must differ.
  const std::vector<Facets> bodies{facets_of(box({0, 0, 0}, {100, 10, 100})),
                                   facets_of(box({-50, 20, 40}, {150, 30, 60}))};
  Random random(1);
  Tally right;
  compare(bodies, triangles::of(bodies), {{1, 0, 0}, {0, 0, 1}}, 20, random, right);
  CHECK(right.wrong == 0);
  Tally wrong;
  compare(bodies, triangles::of({bodies[1]}), {{1, 0, 0}, {0, 0, 1}}, 20, random, wrong);
  CHECK(wrong.wrong > 0);
}
