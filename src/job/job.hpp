// The one way into the program: a command with its texts in, named bytes and words out.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "case/read_case.hpp"
#include "fit/parts.hpp"
#include "geometry/mesh_file.hpp"

namespace rimload {

/// Estimate a case: `result.json`, the pictures, `samples.csv`, and the finding in words.
struct FitRequest {
  std::string case_file;
  bool pictures = true;  ///< front.png, left.png, right.png
  bool samples = false;  ///< samples.csv, every contact sample of every phase
  int band_draws = 0;    ///< how sure it is, over so many draws; 0: left out
  unsigned seed = 1;     ///< of the draws
};

/// A first look at a case for a screen: see `Looker`.
struct LookRequest {
  std::string case_file;
  bool moving = false;  ///< a hand moves: quicker by a coarser rim
};

/// What the last look at rest found: see `Looker`.
struct TellRequest {};

/// The strap window of a case: `strap-window.png`, `strap-window.csv`, and the window in words.
struct StrapsRequest {
  std::string case_file;
};

/// The slice through the tissue where a site is pressed hardest: `section.png`, `section.csv`, and
/// its worst strains in words.
struct SectionRequest {
  std::string case_file;
  std::string site;  ///< such as nasal_bridge
};

/// Every dressing of the case's catalogue at every place that needs one: `dressings.csv`,
/// `before-after.png` when one is chosen, and the choice in words.
struct DressingRequest {
  std::string case_file;
};

/// Every cushion of the case's catalogue on its face, ranked: `sizes.png`, `sizes.csv`,
/// `rotation.csv` (which to wear in turn), and the ranking in words.
struct SizesRequest {
  std::string case_file;
  int n_draws = 100;  ///< of what can't be known, 0 to 10000; 0: no bands
  unsigned seed = 1;
};

/// What was seen at the bedside held against the model: `seen.csv`, and tension, margin, leak and
/// worst reading before and after in words.
struct SeenRequest {
  std::string case_file;  ///< with a key `seen`
  int n_draws = 300;      ///< of what can't be known, 20 to 10000
  unsigned seed = 1;
};

/// The face that measurements of a person leave: `face.json`, `measures.csv`, `landmark-bands.csv`,
/// and its size, doubtful values and the next measurement in words.
struct MeasureRequest {
  std::string file;  ///< a case that gives measurements, or a measurements file; may be empty with
  bool guide = false;  ///< measuring-guide.png, where and how each dimension is taken
};

/// Landmarks proposed on a scan: `landmarks.json`, not confirmed; `scan.png`, in which to confirm
/// them; and the list with how sure each is in words.
struct ScanRequest {
  std::string scan_file;  ///< OBJ, PLY, STL or OFF
  std::string unit = {};  ///< mm, cm, inch or m; empty: inferred
};

/// A catalogue of a supplier's table of dimensions; what was assumed and which columns were not
/// used in words.
struct CatalogueRequest {
  std::string table_file;    ///< CSV
  std::string columns_file;  ///< which column holds what
  std::string like_file;     ///< the catalogue with the typical cushions
};

/// A card to print, by which a face is measured for the sizes of a catalogue: `sizing-card.pdf`,
/// and each page as SVG.
struct CardRequest {
  std::string catalogue_file;
};

/// Say of each case, catalogue, face, dressings, measurements, columns or landmarks file whether it
/// is sound.
struct CheckRequest {
  std::vector<std::string> files;
};

/// The mesh of a face: `face.ply`, `.obj` or `.stl`.
struct FaceRequest {
  std::string face;  ///< name of a face model, or a face file
  MeshFormat format = MeshFormat::ply;
  double spacing_mm = 1;  ///< 0.2 to 20
};

/// The JSON Schema of a kind of file.
struct SchemaRequest {
  std::string name;  ///< case, catalogue, face, dressings, measurements, columns, landmarks or
                     ///< result
};

/// The whole tool as one file for a browser: `rimload.html`.
struct PageRequest {};

using JobRequest = std::variant<FitRequest, LookRequest, TellRequest, StrapsRequest, SectionRequest,
                                DressingRequest, SizesRequest, SeenRequest, MeasureRequest,
                                ScanRequest, CatalogueRequest, CardRequest, CheckRequest,
                                FaceRequest, SchemaRequest, PageRequest>;

/// How a command ended; the values are the exit codes of the program.
enum class JobEnd {
  done = 0,            ///< whatever was found
  our_failure = 1,     ///< a broken promise of the program
  input_at_fault = 2,  ///< every fault is in `complaint`, or for a check in `printed`
};

struct NamedBytes {
  std::string name;
  std::string bytes;
};

struct JobOutput {
  JobEnd end = JobEnd::done;
  std::string printed;            ///< for the reader: the finding, the verdict of a check
  std::string complaint;          ///< why there is no result, one fault a line
  std::vector<NamedBytes> files;  ///< empty unless done
};

/// Runs a command. Never throws: an exception becomes an end and a complaint.
/// @param read_file gives the text of the files that are asked for and of those they name
/// @param progress told of what takes long: bands, sizes, what was seen, dressings
[[nodiscard]] JobOutput run_job(const JobRequest& request, const ReadFile& read_file,
                                const Progress& progress = {});

}  // namespace rimload
