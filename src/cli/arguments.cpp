#include "cli/arguments.hpp"

#include <CLI/CLI.hpp>
#include <sstream>

namespace rimload {

namespace {

constexpr const char* about =
    "Estimates where a mask for noninvasive ventilation presses the skin, where it leaks, and "
    "where a dressing goes.\nA planning and teaching aid, not a medical device. Local policy and "
    "licensed practice come first.";
constexpr const char* endings =
    "Exit code: 0 done, whatever was found; 2 input at fault; 1 a failure of the program.\n"
    "'rimload COMMAND --help' shows more on a command.";
constexpr int input_at_fault = 2;

struct Parsed {
  FitRequest fit;
  StrapsRequest straps;
  SectionRequest section;
  DressingRequest dressing;
  SizesRequest sizes;
  SeenRequest seen;
  MeasureRequest measure;
  ScanRequest scan;
  CatalogueRequest catalogue;
  CardRequest card;
  CheckRequest check;
  FaceRequest face;
  SchemaRequest schema;
  std::string out;
  std::string samples;
  bool no_pictures = false;
};

void add_commands(CLI::App& app, Parsed& parsed) {
  CLI::App* fit = app.add_subcommand("fit", "Estimate a case: pressure, leaks, dressing places");
  fit->add_option("CASE.json", parsed.fit.case_file, "The case")->required();
  fit->add_option("--out", parsed.out, "Folder for result.json and the pictures")
      ->required()
      ->type_name("DIR");
  fit->add_option("--samples", parsed.samples, "Write every contact sample to this file")
      ->type_name("FILE.csv");
  fit->add_flag("--no-pictures", parsed.no_pictures, "Leave out front.png, left.png, right.png");
  fit->add_option("--bands", parsed.fit.band_draws,
                  "Also how sure it is, over so many draws of what can't be known, 0 to 10000")
      ->check(CLI::Range(0, 10000))
      ->type_name("N");
  fit->add_option("--seed", parsed.fit.seed, "Of the draws; default 1")->type_name("N");
  fit->footer("Example: rimload fit demo/cases/first-fit.json --out demo/out");

  CLI::App* straps = app.add_subcommand(
      "straps", "Find the strap window: where a case seals, and where it is too tight");
  straps
      ->add_option("CASE.json", parsed.straps.case_file,
                   "The case; what it says of straps is left aside")
      ->required();
  straps->add_option("--out", parsed.out, "Folder for strap-window.png and strap-window.csv")
      ->required()
      ->type_name("DIR");
  straps->footer("Example: rimload straps demo/cases/first-fit.json --out demo/out");

  CLI::App* section = app.add_subcommand(
      "section", "Cut a slice where a site is pressed hardest: strain in skin and fat");
  section->add_option("CASE.json", parsed.section.case_file, "The case")->required();
  section->add_option("--site", parsed.section.site, "The site, such as nasal_bridge")
      ->required()
      ->type_name("SITE");
  section->add_option("--out", parsed.out, "Folder for section.png and section.csv")
      ->required()
      ->type_name("DIR");
  section->footer(
      "Example: rimload section demo/cases/first-fit.json --site nasal_bridge --out demo/out");

  CLI::App* dressing = app.add_subcommand(
      "dressing", "Try every dressing at every place that needs one; choose the fewest that help");
  dressing
      ->add_option("CASE.json", parsed.dressing.case_file,
                   "The case; its key dressings names a catalogue")
      ->required();
  dressing->add_option("--out", parsed.out, "Folder for dressings.csv and before-after.png")
      ->required()
      ->type_name("DIR");
  dressing->footer("Example: rimload dressing demo/cases/first-fit.json --out demo/out");

  CLI::App* sizes = app.add_subcommand(
      "sizes", "Try every cushion of the case's catalogue on its face; rank them, with bands");
  sizes
      ->add_option("CASE.json", parsed.sizes.case_file,
                   "The case; what it says of straps and dressings is left aside")
      ->required();
  sizes->add_option("--out", parsed.out, "Folder for sizes.png, sizes.csv and rotation.csv")
      ->required()
      ->type_name("DIR");
  sizes
      ->add_option("--draws", parsed.sizes.n_draws,
                   "Of what can't be known, 0 to 10000; 0: no bands; default 100")
      ->check(CLI::Range(0, 10000))
      ->type_name("N");
  sizes->add_option("--seed", parsed.sizes.seed, "Of the draws; default 1")->type_name("N");
  sizes->footer("Example: rimload sizes demo/cases/first-fit.json --out demo/out");

  CLI::App* seen = app.add_subcommand(
      "seen", "Hold what was seen at the bedside against the model; update tension and leak");
  seen->add_option("CASE.json", parsed.seen.case_file, "The case, with a key seen")->required();
  seen->add_option("--out", parsed.out, "Folder for seen.csv")->required()->type_name("DIR");
  seen->add_option("--draws", parsed.seen.n_draws,
                   "Of what can't be known, 20 to 10000; default 300")
      ->check(CLI::Range(20, 10000))
      ->type_name("N");
  seen->add_option("--seed", parsed.seen.seed, "Of the draws; default 1")->type_name("N");
  seen->footer("Example: rimload seen demo/cases/seen-at-bedside.json --out demo/out");

  CLI::App* measure = app.add_subcommand(
      "measure", "Make a face from measurements of a person; say what to measure next");
  measure->add_option("FILE.json", parsed.measure.file,
                      "A measurements file, or a case that gives measurements");
  measure->add_flag("--guide", parsed.measure.guide,
                    "Also measuring-guide.png: where and how to take each; needs no FILE");
  measure->add_option("--out", parsed.out, "Folder for face.json and the tables")
      ->required()
      ->type_name("DIR");
  measure->footer("Example: rimload measure demo/cases/measured-wearer.json --out demo/out");

  CLI::App* scan = app.add_subcommand(
      "scan", "Propose landmarks on a scan of a face, each to be confirmed in a picture");
  scan->add_option("SCAN_FILE", parsed.scan.scan_file, "A triangle mesh: OBJ, PLY, STL or OFF")
      ->required();
  scan->add_option("--unit", parsed.scan.unit,
                   "Of its coordinates: mm, cm, inch or m; inferred when left out")
      ->check(CLI::IsMember({"mm", "cm", "inch", "m"}))
      ->type_name("UNIT");
  scan->add_option("--out", parsed.out, "Folder for landmarks.json and scan.png")
      ->required()
      ->type_name("DIR");
  scan->footer("Example: rimload scan my-scan.ply --out demo/out");

  CLI::App* catalogue = app.add_subcommand(
      "catalogue", "Make a catalogue of a supplier's table of dimensions; say what is assumed");
  catalogue->add_option("TABLE.csv", parsed.catalogue.table_file, "The table, a row a size")
      ->required();
  catalogue
      ->add_option("--columns", parsed.catalogue.columns_file,
                   "Which column holds what; see 'rimload schema columns'")
      ->required()
      ->type_name("MAP.json");
  catalogue
      ->add_option("--like", parsed.catalogue.like_file,
                   "Catalogue with a typical cushion of each type")
      ->required()
      ->type_name("CATALOGUE.json");
  catalogue->add_option("--out", parsed.out, "Catalogue to write")->required()->type_name("FILE");
  catalogue->footer(
      "Example: rimload catalogue demo/catalogue/supplier-table.csv --columns "
      "demo/catalogue/supplier-columns.json --like demo/catalogue/demo-cushions.json "
      "--out demo/out/supplier-cushions.json");

  CLI::App* card = app.add_subcommand(
      "card", "Draw a card to print: rulers for a face, with what goes with each size");
  card->add_option("CATALOGUE.json", parsed.card.catalogue_file, "The catalogue")->required();
  card->add_option("--out", parsed.out, "Folder for sizing-card.pdf and its pages as SVG")
      ->required()
      ->type_name("DIR");
  card->footer("Example: rimload card demo/catalogue/demo-cushions.json --out demo/out");

  CLI::App* check = app.add_subcommand("check",
                                       "Say whether case, catalogue, face, dressings, "
                                       "measurements, columns or landmarks files are sound; list "
                                       "every fault");
  check
      ->add_option("FILE", parsed.check.files,
                   "Files, told apart by their first key; CSV holds landmarks of a scan")
      ->required();
  check->footer(
      "Example: rimload check demo/cases/first-fit.json "
      "demo/catalogue/demo-cushions.json");

  CLI::App* face = app.add_subcommand("face", "Write the mesh of a face");
  face->add_option("FACE", parsed.face.face, "A face model by name, or a face file")->required();
  face->add_option("--out", parsed.out, "File to write: .ply, .obj or .stl")
      ->required()
      ->type_name("FILE");
  face->add_option("--spacing", parsed.face.spacing_mm, "Between vertices, 0.2 to 20 mm; default 1")
      ->type_name("MM");
  face->footer("Example: rimload face reference --out reference.ply --spacing 0.5");

  CLI::App* schema = app.add_subcommand("schema", "Print the JSON Schema of a kind of file");
  schema
      ->add_option("NAME", parsed.schema.name,
                   "case, catalogue, face, dressings, measurements, columns, landmarks or result")
      ->required();
  schema->footer("Example: rimload schema case");

  CLI::App* page = app.add_subcommand("page", "Write the whole tool as one file for a browser");
  page->add_option("--out", parsed.out, "File to write")->required()->type_name("FILE.html");
  page->footer("Example: rimload page --out rimload.html");
}

Arguments chosen(const CLI::App& app, Parsed& parsed) {
  if (app.got_subcommand("fit")) {
    parsed.fit.pictures = !parsed.no_pictures;
    parsed.fit.samples = !parsed.samples.empty();
    return {parsed.fit, parsed.out, parsed.samples};
  }
  if (app.got_subcommand("straps")) return {parsed.straps, parsed.out, ""};
  if (app.got_subcommand("section")) return {parsed.section, parsed.out, ""};
  if (app.got_subcommand("dressing")) return {parsed.dressing, parsed.out, ""};
  if (app.got_subcommand("sizes")) return {parsed.sizes, parsed.out, ""};
  if (app.got_subcommand("seen")) return {parsed.seen, parsed.out, ""};
  if (app.got_subcommand("measure")) return {parsed.measure, parsed.out, ""};
  if (app.got_subcommand("scan")) return {parsed.scan, parsed.out, ""};
  if (app.got_subcommand("catalogue")) return {parsed.catalogue, parsed.out, ""};
  if (app.got_subcommand("card")) return {parsed.card, parsed.out, ""};
  if (app.got_subcommand("face")) {
    parsed.face.format = mesh_format_of(parsed.out);
    return {parsed.face, parsed.out, ""};
  }
  if (app.got_subcommand("page")) return {PageRequest{}, parsed.out, ""};
  if (app.got_subcommand("check")) return {parsed.check, "", ""};
  return {parsed.schema, "", ""};
}

}  // namespace

std::variant<Arguments, Answer> read_arguments(int argc, const char* const* argv) {
  Parsed parsed;
  CLI::App app(about, "rimload");
  app.set_version_flag("--version", "rimload " RIMLOAD_VERSION);
  app.require_subcommand(1);
  app.footer(endings);
  add_commands(app, parsed);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    std::ostringstream printed;
    std::ostringstream complaint;
    const bool asked_for = app.exit(error, printed, complaint) == 0;
    return Answer{asked_for ? 0 : input_at_fault, printed.str(), complaint.str()};
  }
  return chosen(app, parsed);
}

}  // namespace rimload
