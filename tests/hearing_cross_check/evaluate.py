"""The front end by python_speech_features, the warping by dtw-python: the second opinions of tests/hearing_cross_check.rs."""
import json
import sys

import numpy
import python_speech_features as speech
from dtw import dtw
from scipy.fftpack import dct

given = json.load(sys.stdin)
signal = numpy.array(given["samples"])
energies, _ = speech.fbank(
    signal, 16000, 0.025, 0.01, nfilt=24, nfft=512, lowfreq=80, highfreq=7600, preemph=0.97, winfunc=numpy.hamming
)
bands = 10 * numpy.log10(energies)
cepstra = dct(bands, type=2, axis=1, norm="ortho")[:, :13]
slopes = speech.delta(cepstra, 2)
warped = dtw(
    numpy.array(given["a"]), numpy.array(given["b"]), dist_method="euclidean", step_pattern="symmetric2"
).normalizedDistance
json.dump({"bands": bands.tolist(), "features": numpy.hstack([cepstra, slopes]).tolist(), "warped": warped}, sys.stdout)
