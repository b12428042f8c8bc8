#pragma once

#include "mobile/position/position_source.h"

namespace swardwalk::mobile {

/// Gives the fixes that somebody hands it; also the source of a tablet without any.
class ScriptedSource final : public PositionSource {
  Q_OBJECT

 public:
  using PositionSource::PositionSource;

  void start() override {}
  void stop() override {}
  QString name() const override { return QStringLiteral("a script"); }

  void give(const geo::Fix& one) { Q_EMIT fix(one); }
};

}  // namespace swardwalk::mobile
