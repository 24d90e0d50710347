#include "labels/labels.hpp"
#include "labels/qr_code.hpp"

#include "drawings/audit.hpp"
#include "longer_words.hpp"
#include "projects.hpp"
#include "said_by.hpp"
#include "temporary_folder.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <fstream>
#include <set>
#include <sstream>

using namespace ribbay;
using namespace ribbay::testing;

namespace {

/// Every code on the pages of a document, read from its picture by a program that shares nothing
/// with what wrote it.
std::multiset<std::string> codes_in(const std::string& pdf) {
  const TemporaryFolder folder;
  const std::string path = (folder.path() / "labels.pdf").string();
  std::ofstream(path, std::ios::binary) << pdf;
  said_by("pdftoppm -gray -r 200 " + path + " " + (folder.path() / "page").string());
  std::istringstream lines(said_by("zbarimg --quiet --raw -Sdisable -Sqrcode.enable " +
                                   (folder.path() / "page").string() + "* 2>/dev/null"));
  std::multiset<std::string> codes;
  for (std::string line; std::getline(lines, line);) codes.insert(line);
  return codes;
}

std::multiset<std::string> made_ids(const Layout& layout) {
  std::multiset<std::string> ids;
  for (const Part& part : layout.parts) {
    if (is_made(part.kind)) ids.insert(part.id);
  }
  return ids;
}

std::size_t count(const std::vector<Drawing>& pages, const std::string& text) {
  std::size_t found = 0;
  for (const Drawing& page : pages)
    found += static_cast<std::size_t>(std::ranges::count(page.texts, text, &InkText::text));
  return found;
}

}  // namespace

TEST_CASE("each piece has one label, and a reader finds its id in the code", "[labels]") {
  const Layout layout = demo();
  const auto files = label_files(layout);
  REQUIRE(files);
  REQUIRE(files->size() == 1);
  CHECK(files->front().path == "shop/labels.pdf");
  CHECK(codes_in(files->front().bytes) == made_ids(layout));
  CHECK(label_files(layout)->front().bytes == files->front().bytes);
}

TEST_CASE("no text of a label touches another one, its code or the cut", "[labels]") {
  for (const auto& [show, paper] : {std::pair{"mm", "A4"}, std::pair{"in", "Letter"}}) {
    const Layout layout = demo({std::string("project.show=") + show});
    const std::vector<Drawing> pages = label_pages(layout);
    REQUIRE_FALSE(pages.empty());
    CAPTURE(paper, show);
    CHECK(pages.front().format == paper);
    for (const Drawing& page : pages) {
      for (const Fault& fault : audit(page)) FAIL_CHECK(page.number << ": " << fault.what);
    }
  }
}

TEST_CASE("labels are as clean in a language whose words are 30 % longer", "[labels][wording]") {
  const Layout layout = demo();
  const Speaking longer(longer_words());
  const std::vector<Drawing> pages = label_pages(layout);
  REQUIRE_FALSE(pages.empty());
  CHECK_THAT(pages.front().texts.front().text, !Catch::Contains("Labels:"));
  for (const Drawing& page : pages) {
    for (const Fault& fault : audit(page)) FAIL_CHECK(page.number << ": " << fault.what);
    for (const InkText& t : page.texts) CHECK(t.text.find('{') == std::string::npos);
  }
}

TEST_CASE("like pieces are counted on their labels", "[labels]") {
  const Layout layout = demo();
  const std::vector<Drawing> pages = label_pages(layout);
  for (const PartType& type : part_types(layout)) {
    CAPTURE(type.mark);
    CHECK(count(pages, type.mark) == type.parts.size());
  }
  CHECK(count(pages, "1 of 2") == count(pages, "2 of 2"));
  CHECK(count(pages, "2 of 2") > 0);
}

TEST_CASE("labels of what failed a check say so, and without parts there are none", "[labels]") {
  Layout layout = demo();
  const auto heading = label_pages(layout, {.not_for_cutting = true}).front().texts.front().text;
  CHECK_THAT(heading, Catch::Contains("NOT FOR CUTTING"));
  CHECK_THAT(label_pages(layout).front().texts.front().text, !Catch::Contains("NOT FOR CUTTING"));
  layout.parts.clear();
  CHECK(label_pages(layout).empty());
  REQUIRE(label_files(layout));
  CHECK(label_files(layout)->empty());
}

TEST_CASE("an id too long for a readable code is told, not squeezed", "[labels]") {
  // Version 10, level M, holds 213 bytes. Source: ISO/IEC 18004, table 7, from memory.
  CHECK(qr_code(std::string(213, 'a')));
  CHECK_FALSE(qr_code(std::string(214, 'a')));
  Layout layout = demo();
  std::erase_if(layout.parts, [](const Part& part) { return !is_made(part.kind); });
  layout.parts.resize(1);
  layout.parts.front().id = "rack/" + std::string(300, 'a');
  const std::vector<Drawing> pages = label_pages(layout);
  CHECK(count(pages, "id too long") == 1);
  for (const Drawing& page : pages) CHECK(audit(page).empty());
}

TEST_CASE("a label says which of its sizes the grain runs along, and that a band comes on top",
          "[labels]") {
  const Layout layout = demo();
  const auto pages = label_pages(layout);
  std::size_t shorter = 0;
  std::size_t grained = 0;
  for (const Part& part : layout.parts) {
    if (!is_made(part.kind) || !part.stock.grain) continue;
    ++grained;
    CAPTURE(part.id);
    const std::string size = length_text(part.stock.length, LengthStyle::millimetres);
    CHECK(count(pages, "grain along " + size) > 0);
    if (part.stock.length < part.stock.width - 0.1) ++shorter;
  }
  CHECK(grained > 20);
  CHECK(shorter >= 3);  // where the length is the shorter size it matters
  CHECK(count(pages, "grain along length") == 0);

  Layout banded = layout;
  auto catalogue = std::make_shared<Catalogue>(*layout.catalogue);
  Finish band;
  band.key = "edge_22";
  band.kind = FinishKind::edge_band;
  catalogue->finishes[band.key] = band;
  banded.catalogue = catalogue;
  const auto told = [](const std::vector<Drawing>& all) {
    std::size_t found = 0;
    for (const Drawing& page : all)
      found += static_cast<std::size_t>(std::ranges::count_if(page.texts, [](const InkText& text) {
        return text.text.ends_with(", as sawn, without band");
      }));
    return found;
  };
  const std::size_t before = told(pages);
  Part& shelf = *std::ranges::find(banded.parts, "rack/shelf.lower", &Part::id);
  shelf.coverings = {{.finish = "edge_22", .edges = {0}}};
  CHECK(told(label_pages(banded)) == before + 1);
}
