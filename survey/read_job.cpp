// The job and its instruments.
#include "survey/read_parts.h"
#include "survey/words.h"

namespace levelrun {

Job read_job(const Fields& fields) {
  Job job;
  job.reference = fields.text("reference");
  job.client = fields.text("client", "");
  job.site = fields.text("site", "");
  job.surveyor = fields.text("surveyor", "");
  job.surveyed_on = fields.text("surveyed_on", "");
  job.notes = fields.text("notes", "");
  job.revision = fields.counting_number("revision", job.revision);
  job.new_build = fields.flag("new_build", job.new_build);
  job.tolerance_table = fields.text("tolerance_table", job.tolerance_table);
  for (const Fields& item : fields.list("tolerance_overrides")) {
    Job::TableOverride change;
    change.row = item.text("row");
    change.span = item.number("span", thickness_mm);
    change.limit = item.number("limit", thickness_mm);
    change.reason = item.text("reason");
    if (item.says("reason", "")) item.problem("reason", "an empty text", "the reason");
    job.table_overrides.push_back(std::move(change));
  }
  const Fields show = fields.object_if("show");
  job.show_inch = show.word_index("units", show_unit_words) == Index{1};
  if (show.word_index("decimal", decimal_words) == Index{1}) job.decimal = ',';
  return job;
}

std::vector<Instrument> read_instruments(const FieldList& list, Ids& ids) {
  std::vector<Instrument> instruments;
  for (const Fields& fields : list) {
    Instrument instrument;
    instrument.id = fields.new_id(ids, instruments.size());
    instrument.kind = fields.word("kind", instrument_words, instrument.kind);
    instrument.sd = fields.number("sd", sd_mm);
    instrument.sd_deg = fields.number_if("sd_deg", sd_degrees);
    instrument.sd_per_m = fields.number("sd_per_m", sd_mm_per_m, instrument.sd_per_m);
    instruments.push_back(std::move(instrument));
  }
  return instruments;
}

}  // namespace levelrun
