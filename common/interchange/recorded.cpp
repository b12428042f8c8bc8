#include "common/interchange/recorded.h"

namespace swardwalk::interchange {

std::string Recorded::keyOf(std::string_view role, std::string_view nameKey) {
  return std::string(role).append(1, '\n').append(nameKey);
}

Result<Recorded> readRecorded(const journal::Journal& journal) {
  Recorded recorded;
  const auto read = course::forEachFolded(journal, [&](const course::FoldedRecord& record) {
    if (record.table != course::FoldedRecord::Table::living) return;
    recorded.features.insert(record.feature);
    if (record.withdrawn) return;
    recorded.names.take(record.type, record.subject);
    if (!record.nameKey) return;
    const auto [last, isFirst] =
        recorded.last.try_emplace(Recorded::keyOf(record.type, *record.nameKey),
                                  Recorded::Version{record.source, record.feature});
    if (!isFirst && last->second.source.order() < record.source.order())
      last->second = {record.source, record.feature};
  });
  if (!read) return tl::unexpected(read.error());
  return recorded;
}

}  // namespace swardwalk::interchange
