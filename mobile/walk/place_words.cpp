#include "mobile/walk/place_words.h"

namespace swardwalk::mobile {

AdviceText watch(const QString& title, const QString& reason) {
  AdviceText advice;
  advice.weight = Show::Watch;
  advice.title = title;
  advice.reason = reason;
  return advice;
}

QString sentence(const std::string& words) {
  QString line = text(words);
  if (!line.isEmpty()) line[0] = line[0].toUpper();
  return line;
}

}  // namespace swardwalk::mobile
