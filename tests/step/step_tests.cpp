#include "../solids/sample_layout.hpp"
#include "solids_kernel/shape.hpp"
#include "step/step.hpp"

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <TColStd_SequenceOfAsciiString.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDF_Tool.hxx>
#include <TDataStd_Name.hxx>
#include <TDataStd_TreeNode.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_MaterialTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <catch2/catch.hpp>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <thread>

using namespace ribbay;

namespace {

/// A leaf of the assembly, as a reader sees it.
struct ReadPart {
  std::string product;
  std::string module;
  std::string colour;
  std::string material;
  double density = 0.0;
  double volume = 0.0;
  Vec3 centre;        ///< of volume, placed
  std::string entry;  ///< of the product in the document: equal for instances of one product
};

struct FileRead {
  std::string root;
  std::map<std::string, ReadPart> parts;  ///< by instance name
  std::vector<std::string> length_units;
};

std::string name_of(const TDF_Label& label) {
  Handle(TDataStd_Name) name;
  if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return "(no name)";
  std::string utf8(static_cast<std::size_t>(name->Get().LengthOfCString()) + 1, '\0');
  char* at = utf8.data();
  name->Get().ToUTF8CString(at);
  return utf8.c_str();
}

std::string hex_colour(const Quantity_Color& colour) {
  double rgb[3];
  colour.Values(rgb[0], rgb[1], rgb[2], Quantity_TOC_sRGB);
  char text[8];
  std::snprintf(text, sizeof text, "#%02x%02x%02x",
                static_cast<unsigned>(std::lround(rgb[0] * 255)),
                static_cast<unsigned>(std::lround(rgb[1] * 255)),
                static_cast<unsigned>(std::lround(rgb[2] * 255)));
  return text;
}

void read_components(const TDF_Label& assembly, const TopLoc_Location& where,
                     const std::string& module, FileRead& file) {
  TDF_LabelSequence components;
  XCAFDoc_ShapeTool::GetComponents(assembly, components);
  for (int i = 1; i <= components.Length(); ++i) {
    const TDF_Label component = components.Value(i);
    TDF_Label product;
    REQUIRE(XCAFDoc_ShapeTool::GetReferredShape(component, product));
    const TopLoc_Location placed = where * XCAFDoc_ShapeTool::GetLocation(component);
    if (XCAFDoc_ShapeTool::IsAssembly(product)) {
      read_components(product, placed, name_of(component), file);
      continue;
    }
    ReadPart part;
    part.product = name_of(product);
    part.module = module;
    Quantity_Color colour;
    if (XCAFDoc_DocumentTool::ColorTool(product)->GetColor(product, XCAFDoc_ColorSurf, colour)) {
      part.colour = hex_colour(colour);
    }
    Handle(TDataStd_TreeNode) material;
    Handle(TCollection_HAsciiString) name, description, measure, type;
    if (product.FindAttribute(XCAFDoc::MaterialRefGUID(), material) && material->HasFather() &&
        XCAFDoc_DocumentTool::MaterialTool(product)->GetMaterial(
            material->Father()->Label(), name, description, part.density, measure, type)) {
      part.material = name->ToCString();
    }
    GProp_GProps properties;
    BRepGProp::VolumeProperties(XCAFDoc_ShapeTool::GetShape(product).Moved(placed), properties,
                                1e-10);
    part.volume = properties.Mass();
    const gp_Pnt c = properties.CentreOfMass();
    part.centre = {c.X(), c.Y(), c.Z()};
    TCollection_AsciiString entry;
    TDF_Tool::Entry(product, entry);
    part.entry = entry.ToCString();
    const bool fresh = file.parts.emplace(name_of(component), part).second;
    CHECK(fresh);
  }
}

/// Reads the bytes with a reader that knows nothing of the layout they come from.
FileRead read_back(const std::string& bytes) {
  Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
  const std::filesystem::path path = std::filesystem::temp_directory_path() /
                                     ("ribbay_step_test_" + std::to_string(::getpid()) + ".step");
  std::ofstream(path, std::ios::binary) << bytes;
  STEPCAFControl_Reader reader;
  reader.SetColorMode(true);
  reader.SetNameMode(true);
  reader.SetMatMode(true);
  const IFSelect_ReturnStatus status = reader.ReadFile(path.c_str());
  std::filesystem::remove(path);
  REQUIRE(status == IFSelect_RetDone);
  FileRead file;
  TColStd_SequenceOfAsciiString lengths, angles, solid_angles;
  reader.ChangeReader().FileUnits(lengths, angles, solid_angles);
  for (int i = 1; i <= lengths.Length(); ++i)
    file.length_units.emplace_back(lengths.Value(i).ToCString());
  Handle(TDocStd_Document) document;
  XCAFApp_Application::GetApplication()->NewDocument("BinXCAF", document);
  REQUIRE(reader.Transfer(document));
  TDF_LabelSequence roots;
  XCAFDoc_DocumentTool::ShapeTool(document->Main())->GetFreeShapes(roots);
  REQUIRE(roots.Length() == 1);
  file.root = name_of(roots.First());
  read_components(roots.First(), TopLoc_Location(), "", file);
  XCAFApp_Application::GetApplication()->Close(document);
  return file;
}

SolidSet solids_of(const Layout& layout, int jobs = 1) {
  Built<SolidSet> built = make_solids(layout, jobs);
  REQUIRE(built.findings.empty());
  return std::move(built.value);
}

std::string bytes_of(const Layout& layout, const SolidSet& solids,
                     const StepOptions& options = {}) {
  const Result<OutputFile> file = step_assembly(layout, solids, "model/assembly.step", options);
  REQUIRE(file);
  return file->bytes;
}

}  // namespace

TEST_CASE("a reader finds every part of the layout, by name and module", "[step]") {
  const Layout layout = samples::small_layout();
  const SolidSet solids = solids_of(layout);

  const FileRead file = read_back(bytes_of(layout, solids));

  CHECK(file.root == layout.project.title);
  REQUIRE(file.parts.size() == layout.parts.size());
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    CAPTURE(part.id);
    REQUIRE(file.parts.count(part.id) == 1);
    const ReadPart& read = file.parts.at(part.id);
    CHECK(read.module == part.module);
  }
}

TEST_CASE("a reader finds the volumes and places of the layout, in millimetres", "[step]") {
  const Layout layout = samples::small_layout();
  const SolidSet solids = solids_of(layout);

  const FileRead file = read_back(bytes_of(layout, solids));

  CHECK(file.length_units == std::vector<std::string>{"millimetre"});
  for (std::size_t i = 0; i < layout.parts.size(); ++i) {
    const Part& part = layout.parts[i];
    CAPTURE(part.id);
    const ReadPart& read = file.parts.at(part.id);
    CHECK(read.volume == Approx(volume_mm3(*solids.of(i))).epsilon(1e-9));
    CHECK(length(read.centre - part.frame.point(centroid(*solids.of(i)))) < 1e-6);
  }
}

TEST_CASE("parts made alike are one product, placed as often as needed", "[step]") {
  const Layout layout = samples::small_layout();
  const FileRead file = read_back(bytes_of(layout, solids_of(layout)));
  const auto product = [&](const char* id) { return file.parts.at(id).entry; };

  std::set<std::string> products;
  for (const auto& [id, part] : file.parts) products.insert(part.entry);
  // Post, rail and brace from one length, drilled post, bracket, bolt, two sides, shelf, its
  // coloured front, worktop.
  CHECK(products.size() == 10);
  CHECK(product("rack/post.rear_left") == product("rack/post.front_right"));
  CHECK(product("rack/rail.rear") == product("rack/brace"));
  CHECK(product("rack/joint.1.bolt") == product("rack/joint.3.bolt"));
  CHECK(product("galley/shelf.1") == product("galley/shelf.2"));
  CHECK(product("galley/shelf.1") != product("galley/front.gr\u00fcn"));
}

TEST_CASE("products are called by mark and title, in any script", "[step]") {
  const Layout layout = samples::small_layout();
  const std::string bytes = bytes_of(layout, solids_of(layout));
  const FileRead file = read_back(bytes);
  std::map<std::string, std::string> mark;
  for (const PartType& type : part_types(layout)) {
    for (const std::size_t part : type.parts) mark[layout.parts[part].id] = type.mark;
  }
  CHECK(file.parts.at("rack/post.rear_left").product == mark.at("rack/post.rear_left") + " Post");
  CHECK(file.parts.at("rack/joint.1.bolt").product == "Bolt M8 x 25");
  CHECK(file.parts.at("galley/front.gr\u00fcn").product ==
        mark.at("galley/front.gr\u00fcn") + " Front \"\u0394\" \\ \U0001F690");
  // ISO 10303-21: text outside ASCII is written as \X2\ and \X4\ escapes.
  CHECK(std::ranges::all_of(bytes, [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
  CHECK_THAT(bytes, Catch::Contains("galley/front.gr\\X2\\00FC\\X0\\n"));
  CHECK_THAT(bytes, Catch::Contains("\\X4\\0001F690\\X0\\"));
}

TEST_CASE("colours and materials arrive as given", "[step]") {
  const Layout layout = samples::small_layout();
  const FileRead file = read_back(bytes_of(layout, solids_of(layout)));
  for (const Part& part : layout.parts) {
    CAPTURE(part.id);
    const ReadPart& read = file.parts.at(part.id);
    CHECK(read.colour == part.colour);
    if (part.material.empty()) {
      CHECK(read.material.empty());
      continue;
    }
    const Material& material = layout.catalogue->materials.at(part.material);
    CHECK(read.material == material.title);
    CHECK(read.density == Approx(material.density * 1e6));
  }
}

TEST_CASE("density is written in grams per cubic centimetre", "[step]") {
  const Layout layout = samples::small_layout();
  const std::string bytes = bytes_of(layout, solids_of(layout));
  CHECK_THAT(bytes, Catch::Contains("'density measure',POSITIVE_RATIO_MEASURE(2.7)"));
  CHECK_THAT(bytes, Catch::Contains("'density measure',POSITIVE_RATIO_MEASURE(0.68)"));
  const auto number_before = [&](std::size_t at) {
    const std::size_t line = bytes.rfind('\n', at) + 1;
    return bytes.substr(line, bytes.find('=', line) - line);
  };
  const std::size_t gram = bytes.find("(MASS_UNIT()NAMED_UNIT(*)SI_UNIT($,.GRAM.))");
  const std::size_t centimetre = bytes.find("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.CENTI.,.METRE.))");
  REQUIRE(gram != std::string::npos);
  REQUIRE(centimetre != std::string::npos);
  CHECK_THAT(bytes, Catch::Contains("DERIVED_UNIT_ELEMENT(" + number_before(gram) + ",1.)"));
  CHECK_THAT(bytes, Catch::Contains("DERIVED_UNIT_ELEMENT(" + number_before(centimetre) + ",-3.)"));
}

TEST_CASE("the header names the schema and no date but the one given", "[step]") {
  const Layout layout = samples::small_layout();
  const SolidSet solids = solids_of(layout);
  const std::string dated = bytes_of(layout, solids, {.date = "2026-11-24"});
  const std::string header = dated.substr(0, dated.find("DATA;"));
  CHECK_THAT(header, Catch::Contains("AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF"));
  CHECK_THAT(header, Catch::Contains("'2026-11-24T00:00:00'"));
  std::string undated = bytes_of(layout, solids);
  CHECK_THAT(undated.substr(0, undated.find("DATA;")), !Catch::Contains("20"));
  CHECK(undated.substr(undated.find("DATA;")) == dated.substr(dated.find("DATA;")));
}

TEST_CASE("the same layout gives the same bytes, whatever else ran before and beside it",
          "[step]") {
  const Layout layout = samples::small_layout();
  const std::string first = bytes_of(layout, solids_of(layout, 1));
  CHECK(bytes_of(layout, solids_of(layout, 1)) == first);
  CHECK(bytes_of(layout, solids_of(layout, 4)) == first);

  const SolidSet solids = solids_of(layout, 2);
  std::vector<std::string> beside(4);
  {
    std::vector<std::jthread> threads;
    for (std::string& bytes : beside) {
      threads.emplace_back([&] {
        const Result<OutputFile> file = step_assembly(layout, solids, "model/assembly.step");
        bytes = file ? file->bytes : "failed";
      });
    }
  }
  for (const std::string& bytes : beside) CHECK(bytes == first);
}

TEST_CASE("each module has a file of its own, in van axes", "[step]") {
  const Layout layout = samples::small_layout();
  const SolidSet solids = solids_of(layout);

  const Built<OutputFiles> files = step_files(layout, solids, "2026-11-24");

  CHECK(files.findings.empty());
  REQUIRE(files.value.size() == 3);
  CHECK(files.value[0].path == "model/assembly.step");
  CHECK(files.value[1].path == "model/galley.step");
  CHECK(files.value[2].path == "model/rack.step");
  const FileRead whole = read_back(files.value[0].bytes);
  std::size_t parts = 0;
  for (const std::size_t i : {1U, 2U}) {
    const FileRead module = read_back(files.value[i].bytes);
    parts += module.parts.size();
    for (const auto& [id, part] : module.parts) {
      CHECK(length(part.centre - whole.parts.at(id).centre) < 1e-6);
    }
  }
  CHECK(parts == layout.parts.size());
}

TEST_CASE("a part without a solid is left out and the others stay", "[step]") {
  const Layout layout = samples::small_layout();
  SolidSet solids = solids_of(layout);
  solids.of_part[0].reset();
  const FileRead file = read_back(bytes_of(layout, solids));
  CHECK(file.parts.size() == layout.parts.size() - 1);
  CHECK(file.parts.count(layout.parts[0].id) == 0);
}

TEST_CASE("a layout with nothing in it is a finding, not a crash", "[step]") {
  const Layout layout;
  const Result<OutputFile> file = step_assembly(layout, SolidSet{}, "model/assembly.step");
  REQUIRE_FALSE(file);
  CHECK(file.error().front().code == "step.not_written");
  CHECK(file.error().front().subjects == std::vector<std::string>{"model/assembly.step"});
}
