#include "job/job.hpp"

#include <algorithm>
#include <new>
#include <thread>

#include "job/commands.hpp"
#include "job/look.hpp"
#include "units/error.hpp"

namespace rimload {

namespace {

struct Runner {
  const ReadFile& read_file;
  const Progress& progress;
  JobOutput operator()(const FitRequest& request) const {
    return run_fit(request, read_file, progress);
  }
  JobOutput operator()(const LookRequest& request) const {
    return Looker().look(request, read_file);
  }
  JobOutput operator()(const TellRequest&) const { return Looker().tell(); }
  JobOutput operator()(const StrapsRequest& request) const {
    return run_straps(request, read_file);
  }
  JobOutput operator()(const SectionRequest& request) const {
    return run_section(request, read_file);
  }
  JobOutput operator()(const DressingRequest& request) const {
    return run_dressing(request, read_file, progress);
  }
  JobOutput operator()(const SizesRequest& request) const {
    return run_sizes(request, read_file, progress);
  }
  JobOutput operator()(const SeenRequest& request) const {
    return run_seen(request, read_file, progress);
  }
  JobOutput operator()(const MeasureRequest& request) const {
    return run_measure(request, read_file);
  }
  JobOutput operator()(const ScanRequest& request) const { return run_scan(request, read_file); }
  JobOutput operator()(const CatalogueRequest& request) const {
    return run_catalogue(request, read_file);
  }
  JobOutput operator()(const CardRequest& request) const { return run_card(request, read_file); }
  JobOutput operator()(const CheckRequest& request) const { return run_check(request, read_file); }
  JobOutput operator()(const FaceRequest& request) const { return run_face(request, read_file); }
  JobOutput operator()(const SchemaRequest& request) const { return run_schema(request); }
  JobOutput operator()(const PageRequest& request) const { return run_page(request); }
};

JobOutput failed(JobEnd end, std::string complaint) {
  JobOutput out;
  out.end = end;
  out.complaint = std::move(complaint);
  return out;
}

}  // namespace

int n_threads_here() {
#ifdef __EMSCRIPTEN__
  return 1;
#else
  return std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
#endif
}

JobOutput run_job(const JobRequest& request, const ReadFile& read_file, const Progress& progress) {
  return guarded([&] { return std::visit(Runner{read_file, progress}, request); });
}

JobOutput guarded(const std::function<JobOutput()>& work) {
  try {
    return work();
  } catch (const InputError& error) {
    return failed(JobEnd::input_at_fault, std::string(error.what()) + "\n");
  } catch (const std::bad_alloc&) {
    return failed(JobEnd::our_failure, "rimload failed: there is not enough memory\n");
  } catch (const std::exception& error) {
    return failed(JobEnd::our_failure, std::string("rimload failed: ") + error.what() + "\n");
  }
}

}  // namespace rimload
