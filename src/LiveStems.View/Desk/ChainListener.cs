using LiveStems.Engine.RealTime;

namespace LiveStems.View.Desk;

/// <summary>Listens to both ends of the tapped chain and publishes pictures of their spectra.</summary>
internal sealed class ChainListener
{
    private const int PicturesPerSecond = 60;
    private const int PicturesPerPercentile = 15;
    private const int PicturesPerCount = 3;

    private readonly End input;
    private readonly End output;
    private readonly int pictureFrames;
    private int sincePicture;
    private long pictures;

    public ChainListener(SoundTap input, SoundTap output, int sampleRate)
    {
        this.input = new End(input, sampleRate);
        this.output = new End(output, sampleRate);
        pictureFrames = sampleRate / PicturesPerSecond;
        Pictures = new TripleBuffer<SpectrumFrame>(() => new SpectrumFrame(SpectrumModel.Points));
    }

    public TripleBuffer<SpectrumFrame> Pictures { get; }

    public void Clear()
    {
        input.Clear();
        output.Clear();
    }

    public void Hold(bool untilCleared)
    {
        input.Spectrum.Hold(untilCleared);
        output.Spectrum.Hold(untilCleared);
    }

    /// <summary>Takes what there is; false when there was nothing.</summary>
    public bool Listen()
    {
        input.Take();
        int frames = output.Take();
        sincePicture += frames;
        if (sincePicture >= pictureFrames)
        {
            sincePicture %= pictureFrames;
            Publish();
        }

        return frames > 0;
    }

    private void Publish()
    {
        pictures++;
        if (pictures % PicturesPerCount == 0)
        {
            input.Spectrum.Count();
            output.Spectrum.Count();
        }

        if (pictures % PicturesPerPercentile == 0)
        {
            input.UpdatePercentiles();
            output.UpdatePercentiles();
        }

        SpectrumFrame frame = Pictures.Next;
        frame.Number = pictures;
        input.CopyTo(frame.Input);
        output.CopyTo(frame.Output);
        Pictures.Publish();
    }

    private sealed class End(SoundTap tap, int sampleRate)
    {
        private const int FramesAtOnce = 1024;

        private readonly float[] left = new float[FramesAtOnce];
        private readonly float[] right = new float[FramesAtOnce];
        private float[]? low;
        private float[]? high;

        public SpectrumListener Spectrum { get; } = new(sampleRate);

        public int Take()
        {
            int frames = tap.Take(left, right);
            Spectrum.Add(left.AsSpan(0, frames), right.AsSpan(0, frames));
            return frames;
        }

        public void Clear()
        {
            Spectrum.Clear();
            low = null;
        }

        public void UpdatePercentiles()
        {
            low ??= SpectrumCurves.Silence(SpectrumModel.Points);
            high ??= SpectrumCurves.Silence(SpectrumModel.Points);
            Spectrum.CopyPercentiles(low, high);
        }

        public void CopyTo(SpectrumCurves curves)
        {
            Spectrum.CopyTo(curves);
            if (low is null || high is null)
            {
                Array.Fill(curves.Low, float.NegativeInfinity);
                Array.Fill(curves.High, float.NegativeInfinity);
                return;
            }

            low.CopyTo(curves.Low, 0);
            high.CopyTo(curves.High, 0);
        }
    }
}
