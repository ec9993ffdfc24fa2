using LiveStems.App.Demo.Mixing;

namespace LiveStems.App.Demo.Instruments;

/// <summary>What the mix engineer left on the lead voice: some compression, presence, an echo, a plate.</summary>
internal static class VoiceChannel
{
    public static StereoTrack Mix(float[] voice, int sampleRate, double echoSeconds, double echoDb, RoomSettings plate, double plateDb)
    {
        BusCompressor.Process(voice, voice, sampleRate, -24, 3, 6, 120, 3);
        Biquad.Process(Biquad.Bell(3000, 0.9, 1, sampleRate), voice);
        Biquad.Process(Biquad.HighShelf(5500, 6, sampleRate), voice);
        Saturator.Process(voice, 0, 0.1);
        var track = new StereoTrack(voice.Length, sampleRate);
        track.Add(voice);
        var send = new StereoTrack(voice.Length, sampleRate);
        send.Add(voice);
        int echo = (int)(echoSeconds * sampleRate);
        Samples.AddScaled(send.Left.AsSpan(echo), voice.AsSpan(0, voice.Length - echo), (float)Dsp.Decibels.ToAmplitude(echoDb));
        int later = echo * 3 / 2;
        Samples.AddScaled(send.Right.AsSpan(later), voice.AsSpan(0, voice.Length - later), (float)Dsp.Decibels.ToAmplitude(echoDb - 2));
        StereoTrack wet = Room.Render(send, plate);
        return track.Add(wet, plateDb);
    }
}
