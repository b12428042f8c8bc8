#pragma once

#include <QString>

class QQuickWindow;

namespace swardwalk::mobile {

class App;

/// Goes through the pages and saves a picture of each as a PNG into `folder`; for the
/// documents and for looking over what changed. Gives the exit status: 0 when all are
/// saved. Nothing of the course is changed.
int takePictures(App& app, QQuickWindow& window, const QString& folder);

}  // namespace swardwalk::mobile
