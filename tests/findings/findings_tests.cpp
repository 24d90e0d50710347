#include "findings/findings_page.hpp"

#include "base/messages.hpp"
#include "clearance/clearance.hpp"
#include "drawings/audit.hpp"
#include "drawings/finding_picture.hpp"
#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace ribbay;

namespace {

Part board(std::string id, Vec3 lo, Vec3 hi) {
  Part part;
  part.module = id.substr(0, id.find('/'));
  part.title = "Board";
  part.id = std::move(id);
  part.stock.key = "ply";
  part.shape = std::make_shared<const Shape>(box_shape(lo, hi));
  return part;
}

/// A drawer of 400 x 200 that comes out to the rear and meets a post 100 behind it.
Layout drawer_and_post() {
  Layout layout;
  layout.parts = {board("box/front", {1000, -200, 0}, {1018, 200, 200}),
                  board("rack/post", {860, 150, 0}, {900, 190, 900})};
  layout.modules.resize(2);
  layout.modules[0].name = "box";
  layout.modules[0].envelope = {{1000, -200, 0}, {1018, 200, 200}};
  layout.modules[1].name = "rack";
  layout.modules[1].envelope = {{860, 150, 0}, {900, 190, 900}};
  Motion motion;
  motion.id = "box/drawer";
  motion.title = "Drawer";
  motion.parts = {"box/front"};
  motion.axis = {-1, 0, 0};
  motion.travel = motion.required = 300.0;
  layout.motions = {motion};
  return layout;
}

Finding only_error(const Layout& layout) {
  const Findings findings = check_clearance(layout).findings;
  const auto found = std::ranges::find(findings, "clearance.motion", &Finding::code);
  REQUIRE(found != findings.end());
  return *found;
}

bool has_line(const Drawing& d, Vec2 a, Vec2 b, LineType type) {
  const auto same = [](Vec2 p, Vec2 q) { return length(p - q) < 0.02; };
  return std::ranges::any_of(d.lines, [&](const InkLine& l) {
    return l.pen.type == type && ((same(l.a, a) && same(l.b, b)) || (same(l.a, b) && same(l.b, a)));
  });
}

}  // namespace

TEST_CASE("what moves is drawn where it meets what stops it, and where it is shut", "[findings]") {
  const Layout layout = drawer_and_post();
  const auto picture = finding_picture(layout, only_error(layout));
  REQUIRE(picture);
  CHECK(audit(*picture).empty());
  // The second panel shows x 860..1018 and y -200..200 from above, 400 high on 52 mm with a margin
  // of 4 %; its middle stands in the middle of the page. By hand: scale 52 / 416.
  const double scale = 52.0 / 416.0;
  const Vec2 middle{95.0, picture->views.at(2).centre().y};
  CHECK(picture->views.at(2).centre().x == Approx(middle.x).margin(0.01));
  const auto paper = [&](double x, double y) {
    return middle + Vec2{x - (860.0 + 1018.0) / 2, y} * scale;
  };
  // It opens 100 mm, until its rear side lies at the post's front side: x = 900. The middle of what
  // is concerned is that of the post and the open drawer: 860..918.
  const auto open = [&](double x, double y) {
    return middle + Vec2{x - (860.0 + 918.0) / 2, y} * scale;
  };
  CHECK(has_line(*picture, open(900, -200), open(900, 200), LineType::continuous));
  CHECK_FALSE(has_line(*picture, paper(900, -200), paper(900, 200), LineType::continuous));
  CHECK(has_line(*picture, open(1000, -200), open(1000, 200), LineType::double_chain));
}

TEST_CASE("the ring stands at the place that the finding names", "[findings]") {
  const Layout layout = drawer_and_post();
  const Finding finding = only_error(layout);
  REQUIRE(finding.at);
  const auto picture = finding_picture(layout, finding);
  REQUIRE(picture);
  // The van's plan: x 860..1018 over 52 mm or less, the same scale for its side view below.
  const Rect plan = picture->views.at(0);
  const double scale = std::min(52.0 / (1018 - 860), (52.0 - 5.5 - 2.5) / (400.0 + 900.0));
  const Vec2 expected =
      plan.centre() + Vec2{finding.at->x - 939.0, finding.at->y - 0.0} * scale;
  CHECK(std::ranges::any_of(picture->arcs, [&](const InkArc& arc) {
    return length(arc.u) > 2.4 && length(arc.centre - expected) < 0.05;
  }));
  CHECK(finding.at->x == Approx(900).margin(1.0));
}

TEST_CASE("what names nothing in the van has no picture", "[findings]") {
  Finding finding;
  finding.code = "input.unknown_key";
  finding.subjects = {"module.rack.hight"};
  CHECK_FALSE(finding_picture(drawer_and_post(), finding));
}

TEST_CASE("the page tells every finding, and shows what can be shown", "[findings]") {
  const std::string folder = RIBBAY_SOURCE_DIR "/params/";
  std::size_t drawn = 0;
  for (const char* van : {"vehicles/long_high.toml", "vehicles/short_low.toml"}) {
    CAPTURE(van);
    const auto inputs =
        read_inputs(folder + "marsh/marsh_first_try.toml", {"project.vehicle=" + folder + van});
    REQUIRE(inputs.value);
    const auto layout = lay_out(*inputs.value);
    REQUIRE(layout.value);
    Findings findings = check_clearance(*layout.value).findings;
    findings.insert(findings.end(), layout.value->judged.begin(), layout.value->judged.end());
    sort_findings(findings);
    REQUIRE(!findings.empty());
    const OutputFiles files = findings_files(*layout.value, findings);
    REQUIRE(files.front().path == "findings/findings.html");
    std::size_t sections = 0;
    for (std::size_t at = files.front().bytes.find("<section>"); at != std::string::npos;
         at = files.front().bytes.find("<section>", at + 1))
      ++sections;
    CHECK(sections == findings.size());
    for (std::size_t i = 1; i < files.size(); ++i)
      CHECK(files.front().bytes.find(files[i].path.substr(9)) != std::string::npos);
    for (const Finding& finding : findings) {
      CAPTURE(finding.code, finding.subjects);
      const auto picture = finding_picture(*layout.value, finding);
      if (finding.code.starts_with("clearance.")) CHECK(picture);
      if (!picture) continue;
      ++drawn;
      for (const Fault& f : audit(*picture))
        FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                          << f.at.y);
    }
    const OutputFiles again = findings_files(*layout.value, findings);
    REQUIRE(again.size() == files.size());
    for (std::size_t i = 0; i < files.size(); ++i) CHECK(again[i].bytes == files[i].bytes);
  }
  CHECK(drawn >= 15);
}
