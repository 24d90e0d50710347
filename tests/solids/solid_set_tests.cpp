#include "sample_shapes.hpp"
#include "solids/solid_set.hpp"
#include "solids/tri_mesh.hpp"

#include <catch2/catch.hpp>

using namespace ribbay;

namespace {

Layout layout_of(const std::vector<samples::Named>& shapes) {
  Layout layout;
  for (const samples::Named& named : shapes) {
    Part part;
    part.id = "m/" + named.name;
    part.shape = std::make_shared<const Shape>(named.shape);
    layout.parts.push_back(std::move(part));
  }
  return layout;
}

}  // namespace

TEST_CASE("equal shapes share one solid", "[solids]") {
  std::vector<samples::Named> shapes = samples::all();
  const std::size_t kinds = shapes.size();
  for (std::size_t i = 0; i < 5; ++i) shapes.push_back({"copy " + shapes[i].name, shapes[i].shape});
  const Layout layout = layout_of(shapes);

  const Built<SolidSet> built = make_solids(layout);

  CHECK(built.findings.empty());
  CHECK(built.value.solids.size() == kinds);
  for (std::size_t i = 0; i < 5; ++i) {
    REQUIRE(built.value.of(i) != nullptr);
    CHECK(built.value.of(i) == built.value.of(kinds + i));
  }
}

TEST_CASE("more threads give the same solids", "[solids]") {
  const Layout layout = layout_of(samples::all());
  const Built<SolidSet> one = make_solids(layout, 1);
  for (const int jobs : {2, 4, 64}) {
    const Built<SolidSet> many = make_solids(layout, jobs);
    REQUIRE(many.value.of_part == one.value.of_part);
    for (std::size_t i = 0; i < one.value.solids.size(); ++i) {
      CAPTURE(jobs, layout.parts[i].id);
      CHECK(volume_mm3(many.value.solids[i]) == volume_mm3(one.value.solids[i]));
      const Result<TriMesh> a = tessellate(one.value.solids[i], 0.1, 0.3);
      const Result<TriMesh> b = tessellate(many.value.solids[i], 0.1, 0.3);
      REQUIRE(a);
      REQUIRE(b);
      CHECK(a->points == b->points);
      CHECK(a->triangles == b->triangles);
    }
  }
}

TEST_CASE("a shape that gives no solid is reported once, with every part that has it", "[solids]") {
  const Shape broken = samples::prism({rectangle({0, 0}, {10, 10}), {}}, -1.0);
  const Layout layout = layout_of({{"a", broken},
                                   {"b", samples::bolt()},
                                   {"c", broken},
                                   {"d", box_shape({0, 0, 0}, {1, 1, 1})}});

  const Built<SolidSet> built = make_solids(layout, 2);

  REQUIRE(built.findings.size() == 1);
  CHECK(built.findings.front().code == "solid.no_height");
  CHECK(built.findings.front().subjects == std::vector<std::string>{"m/a", "m/c"});
  CHECK(built.value.of(0) == nullptr);
  CHECK(built.value.of(2) == nullptr);
  REQUIRE(built.value.of(1) != nullptr);
  REQUIRE(built.value.of(3) != nullptr);
  CHECK(volume_mm3(*built.value.of(1)) > 1000.0);
  CHECK(volume_mm3(*built.value.of(3)) == Approx(1.0));
}
