#include "drawings/audit.hpp"
#include "drawings/steps.hpp"
#include "layout/project.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <set>

using namespace ribbay;

namespace {

/// The project files of a folder of params/.
std::vector<std::string> projects_in(const std::string& folder) {
  std::vector<std::string> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(RIBBAY_SOURCE_DIR "/params/" + folder)) {
    // What projects include, as the demo's equipment, is no project.
    if (entry.path().extension() == ".toml" && entry.path().stem() != "equipment")
      files.push_back(entry.path().string());
  }
  std::ranges::sort(files);
  return files;
}

std::string lower(std::string text) {
  for (char& c : text) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return text;
}

}  // namespace

TEST_CASE("the drawings of every project that comes with the program are clean and complete",
          "[drawings][set][projects]") {
  auto files = projects_in("marsh");
  const auto examples = projects_in("examples");
  REQUIRE(files.size() >= 2);
  REQUIRE(examples.size() >= 13);
  files.insert(files.end(), examples.begin(), examples.end());
  for (const std::string& file : files) {
    CAPTURE(file);
    const auto inputs = read_inputs(file);
    REQUIRE(inputs.value);
    const auto layout = lay_out(*inputs.value);
    REQUIRE(layout.value);
    std::multiset<std::string> texts;
    std::string paths;
    const AssemblyPlan plan = plan_assembly(*layout.value);
    std::vector<SetPage> pages = drawing_set(*layout.value);
    std::ranges::move(step_pages(*layout.value, plan), std::back_inserter(pages));
    for (const SetPage& page : pages) {
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
        for (const FloorBolt& hole : layout.value->floor_bolts)
          CHECK(std::ranges::count(page.drawing.texts, hole.id, &InkText::text) == 1);
        const std::string last = "H" + std::to_string(layout.value->floor_bolts.size());
        CHECK(std::ranges::count(page.drawing.texts, last, &InkText::text) == 2);
      }
      if (!page.what.starts_with("assembly") && !page.what.starts_with("parts list")) continue;
      for (const InkText& t : page.drawing.texts) texts.insert(t.text);
    }
    if (layout.value->vehicle) {
      CHECK((paths.find("drawings/002-floor.svg") != std::string::npos) ==
            !layout.value->floor_bolts.empty());
    }
    for (const PartType& type : part_types(*layout.value)) {
      CAPTURE(type.mark);
      CHECK(texts.count(type.mark) >= 2);  // a balloon and a line of a list
      CHECK(paths.find("-" + lower(type.mark) + "-") != std::string::npos);
    }
  }
}
