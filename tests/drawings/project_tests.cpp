#include "drawings/audit.hpp"
#include "drawn_projects.hpp"
#include "longer_words.hpp"

#include <catch2/catch.hpp>

#include <map>
#include <set>

using namespace ribbay;

namespace {

std::string lower(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

}  // namespace

TEST_CASE("the drawings of every project that comes with the program are clean and complete",
          "[drawings][set][projects]") {
  REQUIRE(testing::project_files("marsh").size() >= 2);
  REQUIRE(testing::project_files("examples").size() >= 13);
  for (const projects::Drawn& project : projects::all()) {
    CAPTURE(project.file);
    const Layout& layout = project.layout;
    std::multiset<std::string> texts;
    std::string paths;
    for (const SetPage& page : project.pages) {
      CAPTURE(page.path);
      paths += page.path + "\n";
      for (const Fault& f : audit(page.drawing)) {
        FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                          << f.at.y);
      }
      CHECK(std::ranges::count(page.drawing.texts,
                               "No legible drawing could be laid out. Use the model in model/.",
                               &InkText::text) == 0);
      if (page.path == "drawings/002-floor.svg") {
        // Every hole is named on the view and in its table, which tells what it is for.
        std::map<std::string, std::ptrdiff_t> holes;
        for (const FloorBolt& hole : layout.floor_bolts)
          ++holes[layout.module(hole.id.substr(0, hole.id.find('/')))->title];
        for (const auto& [title, count] : holes)
          CHECK(std::ranges::count(page.drawing.texts, title, &InkText::text) >= count);
        const std::string last = "H" + std::to_string(layout.floor_bolts.size());
        CHECK(std::ranges::count(page.drawing.texts, last, &InkText::text) == 2);
      }
      if (!page.what.starts_with("assembly") && !page.what.starts_with("parts list")) continue;
      for (const InkText& t : page.drawing.texts) texts.insert(t.text);
    }
    if (layout.vehicle) {
      CHECK(paths.find("drawings/003-sides.svg") != std::string::npos);
      CHECK((paths.find("drawings/002-floor.svg") != std::string::npos) ==
            !layout.floor_bolts.empty());
    }
    for (const PartType& type : part_types(layout)) {
      CAPTURE(type.mark);
      CHECK(texts.count(type.mark) >= 2);  // a balloon and a line of a list
      CHECK(paths.find("-" + lower(type.mark) + "-") != std::string::npos);
    }
  }
}

TEST_CASE("in a language whose words are 30 % longer every sheet of the demo is clean",
          "[drawings][set][projects][wording]") {
  const auto inputs = read_inputs(RIBBAY_SOURCE_DIR "/params/marsh/marsh.toml");
  REQUIRE(inputs.value);
  const auto layout = lay_out(*inputs.value);
  REQUIRE(layout.value);
  const testing::Speaking longer(testing::longer_words());
  std::vector<SetPage> pages =
      drawing_set(*layout.value, {.gaps = projects::some_gaps(*layout.value)});
  std::ranges::move(step_pages(*layout.value, plan_assembly(*layout.value)),
                    std::back_inserter(pages));
  REQUIRE(pages.size() > 90);
  for (const SetPage& page : pages) {
    CAPTURE(page.path);
    for (const Fault& f : audit(page.drawing)) {
      FAIL_CHECK(f.what << " kind " << static_cast<int>(f.kind) << " at " << f.at.x << ", "
                        << f.at.y);
    }
    for (const InkText& t : page.drawing.texts) {
      CAPTURE(t.text);
      CHECK(t.text != say("note.undrawn"));
      // No place is left open, and no key shown for want of a text.
      CHECK(t.text.find('{') == std::string::npos);
    }
    CHECK(std::ranges::count(page.drawing.texts, say("block.scale"), &InkText::text) == 1);
  }
}
