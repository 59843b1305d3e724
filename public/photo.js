// Makes a picture small enough to keep, upright and without anything but the picture. Works in a worker; where that cannot be had, the
// page loads it as a script of its own.

{
  const SIDE = 2000;
  const ROOM = 700_000;
  const KIND = "image/jpeg";

  const small = async (picture, canvas, encoded) => {
    const { width, height } = picture;
    for (let scale = Math.min(1, SIDE / Math.max(width, height)); ; scale *= 0.75) {
      canvas.width = Math.max(1, Math.round(width * scale));
      canvas.height = Math.max(1, Math.round(height * scale));
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#fff";
      pen.fillRect(0, 0, canvas.width, canvas.height);
      pen.imageSmoothingQuality = "high";
      pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
      for (const quality of [0.8, 0.7, 0.6, 0.5]) {
        const blob = await encoded(quality);
        if (blob?.type !== KIND) throw new Error("no JPEG");
        if (blob.size < ROOM) return new Uint8Array(await blob.arrayBuffer());
      }
      if (canvas.width * canvas.height === 1) throw new Error("never small enough");
    }
  };

  const inWorker = async (file) => {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    try {
      const canvas = new OffscreenCanvas(1, 1);
      return await small(picture, canvas, (quality) => canvas.convertToBlob({ type: KIND, quality }));
    } finally {
      picture.close();
    }
  };

  const onPage = async (file) => {
    const picture = new Image();
    const canvas = document.createElement("canvas");
    const address = URL.createObjectURL(file);
    try {
      await new Promise((done, failed) => {
        picture.onload = done;
        picture.onerror = () => failed(new Error("not decoded"));
        picture.src = address;
      });
      return await small(picture, canvas, (quality) => new Promise((done) => canvas.toBlob(done, KIND, quality)));
    } finally {
      URL.revokeObjectURL(address);
      canvas.width = 0;
    }
  };

  if (typeof document === "undefined") {
    self.onmessage = ({ data }) =>
      inWorker(data).then(
        (bytes) => self.postMessage(bytes, [bytes.buffer]),
        (error) => self.postMessage(String(error)),
      );
  } else {
    globalThis.trammelSmall = onPage;
  }
}
